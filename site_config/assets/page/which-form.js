// Which curve is this? From one to five readings: what fits, what does not, and where two would part.

import { remember, remembered } from "../look.js";
import { gridOf } from "../numbers/grid.js";
import { taken } from "../numbers/instruments.js";
import { parseOhm, parseTemperature } from "../numbers/notation.js";
import { formatT } from "../numbers/rounding.js";
import { whichCurve } from "../numbers/which-curve.js";
import { el, link, part, parts } from "./element.js";
import {
  accept, fieldsOf, formOf, openForm, readField, refuse, rememberedChoice,
} from "./fields.js";
import { sayK, sayT } from "./figures.js";
import { unit } from "./unit.js";
import { verdictBox } from "./verdict-box.js";

/** @typedef {import("../numbers/instruments.js").Measured} Measured */
/** @typedef {import("../numbers/which-curve.js").Candidate} Candidate */
/** @typedef {import("../numbers/which-curve.js").Parting} Parting */
/** One reading: where it is typed, and where what is wrong with it is said.
 * @typedef {{li: HTMLElement, at: HTMLInputElement, reading: HTMLInputElement,
 *   says: HTMLElement}} Pair */

const KEY = "ohm.which";

/** @param {HTMLFormElement} form */
function whichForm(form) {
  /** @type {Object<string, {name: string, href: string, on: string[]}>} */
  const told = JSON.parse(form.dataset.curves || "{}");
  /** @type {Object<string, import("../numbers/grid.js").Grid>} */
  const curves = {};
  Object.keys(told).forEach((id) => {
    const grid = gridOf(id);
    if (grid) curves[id] = grid;
  });
  /** @type {{"which-how": HTMLSelectElement, meter: HTMLSelectElement,
   *   thermometer: HTMLSelectElement}} */
  const field = fieldsOf(form);
  const answer = part(form, "output");
  const more = part(form, ".ohm-more");
  const clear = part(form, "[data-clear]");
  const another = part(form, "[data-more]");
  let before = unit.now();
  /** @type {Pair[]} */
  const pairs = parts(form, ".ohm-pairs > li").map((li) => {
    const [at, reading] = Array.from(li.querySelectorAll("input"));
    const says = el("p", "ohm-pair-says");
    li.append(says);
    return { li, at, reading, says };
  });

  /** @param {Pair} pair */
  function filled({ at, reading }) { return Boolean(at.value.trim() || reading.value.trim()); }

  function recall() {
    /** @type {Array<[string, string]>} */
    let typedBefore = [];
    try { typedBefore = JSON.parse(remembered(KEY) || "[]") || []; } catch (broken) { /* begin anew */ }
    typedBefore.slice(0, pairs.length).forEach(([at, reading], i) => {
      pairs[i].at.value = at;
      pairs[i].reading.value = reading;
      pairs[i].li.hidden = false;
    });
  }

  function typed() {
    const now = pairs.filter(filled).map(({ at, reading }) => [at.value, reading.value]);
    remember(KEY, now.length ? JSON.stringify(now) : null);
    look();
  }

  /** @param {Pair} pair
   * @returns {?Measured} null where it is empty, half, or cannot be read */
  function read(pair) {
    pair.says.replaceChildren();
    [pair.at, pair.reading].forEach((one) => { accept(one, pair.says); });
    if (!pair.at.value.trim() || !pair.reading.value.trim()) return null;
    const tC = readField(pair.at, pair.says, (text) => parseTemperature(text, unit.now()));
    if (tC === null) return null;
    const rOhm = readField(pair.reading, pair.says, parseOhm);
    if (rOhm === null) return null;
    const team = globalThis.OhmTeam;
    try {
      return taken(rOhm, {
        tC, meter: team.meters[field.meter.value],
        thermometer: team.thermometers[field.thermometer.value], placement: field["which-how"].value,
      });
    } catch (outside) {
      if (!(outside instanceof Error)) throw outside;
      refuse(pair.says, `${outside.message}.`, pair.at);
      return null;
    }
  }

  function look() {
    /** @type {Measured[]} */
    const readings = [];
    pairs.forEach((pair) => {
      const measured = read(pair);
      if (measured) readings.push(measured);
    });
    clear.hidden = !pairs.some(filled);
    another.hidden = !pairs.some((pair) => pair.li.hidden);
    more.replaceChildren();
    if (!readings.length) {
      answer.textContent = pairs.some(filled) ? "A temperature and a reading make a pair."
        : "Type a temperature and what the meter shows at it.";
      return;
    }
    const which = whichCurve(curves, { readings });
    const fitting = which.ranking.filter((one) => one.fits);
    answer.replaceChildren(verdict(which, fitting));
    if (fitting.length) more.append(el("ol", "ohm-ranking", ...fitting.map(row)));
    more.append(others(which.ranking.filter((one) => !one.fits)));
  }

  /** @param {ReturnType<typeof whichCurve>} which @param {Candidate[]} fitting */
  function verdict({ ranking, separable, parting }, fitting) {
    if (!fitting.length) {
      const nearest = ranking.find((one) => isFinite(one.worstK));
      return verdictBox("outside", "No curve of these notes fits every reading." + (nearest
        ? ` The nearest is ${told[nearest.curve].name}, up to ${sayK(nearest.worstK)} off.`
        : " None of them even reaches these readings."), "None of ours");
    }
    if (separable) {
      return verdictBox("within", `Of ${ranking.length} curves only this one fits every reading.`,
        told[fitting[0].curve].name);
    }
    return verdictBox("undecided", sayParting(parting, fitting),
      `${fitting.length} fit: not told apart`);
  }

  /** Honest when two cannot be told apart, and at which temperature they part.
   * @param {?Parting} parting @param {Candidate[]} fitting */
  function sayParting(parting, fitting) {
    const two = `These readings cannot tell ${told[fitting[0].curve].name} from ` +
      `${told[fitting[1].curve].name}.`;
    if (!parting) {
      return `${two} The two share no temperature, so take a reading where only one of them holds.`;
    }
    if (parting.certain) {
      return `${two} Measure at ${sayT(parting.atC)}: there they part by ${sayK(parting.byK)}` +
        `, and ${sayK(parting.neededK)} are enough.`;
    }
    return `${two} They never part for certain with these instruments: at most by ` +
      `${sayK(parting.byK)}, at ${sayT(parting.atC)}, and ${sayK(parting.neededK)} would be needed.`;
  }

  /** @param {string} id */
  function linkTo(id) { return link(told[id].name, told[id].href); }

  /** @param {Candidate} one */
  function row(one) {
    const on = told[one.curve].on;
    return el("li", null, linkTo(one.curve),
      el("p", "ohm-note", `At most ${sayK(one.worstK)} off. ` + (on.length
        ? `On ${on.slice(0, 4).join(", ")}${on.length > 4 ? ` and ${on.length - 4} more` : ""}.`
        : "On no sensor of these notes.")));
  }

  /** @param {Candidate[]} list */
  function others(list) {
    if (!list.length) return "";
    return el("details", null, el("summary", null, `${list.length} that do not fit`),
      el("ul", null, ...list.map(({ curve, worstK }) => el("li", null,
        isFinite(worstK) ? `up to ${sayK(worstK)} off: ` : "does not reach a reading: ",
        linkTo(curve)))));
  }

  /** A temperature that was typed follows the page's unit. */
  function followUnit() {
    const was = before;
    before = unit.now();
    parts(form, "[data-unit]").forEach((sign) => { sign.textContent = `°${before}`; });
    if (was === before) return;
    pairs.forEach((pair) => {
      try {
        const tC = parseTemperature(pair.at.value, was);
        pair.at.value = formatT(tC, before, 1).split("\u00a0")[0].replace(/\.0$/, "");
      } catch (unreadable) { /* left as typed */ }
    });
    typed();
  }

  [field["which-how"], field.meter, field.thermometer].forEach(rememberedChoice);
  recall();
  pairs.forEach((pair) => {
    pair.at.addEventListener("input", typed);
    pair.reading.addEventListener("input", typed);
  });
  [field["which-how"], field.meter, field.thermometer].forEach((choice) => {
    choice.addEventListener("change", look);
  });
  another.addEventListener("click", () => {
    const next = pairs.find(({ li }) => li.hidden);
    if (!next) return;
    next.li.hidden = false;
    next.at.focus();
    look();
  });
  clear.addEventListener("click", () => {
    pairs.forEach((pair, i) => {
      pair.at.value = pair.reading.value = "";
      pair.li.hidden = i > 0;
    });
    typed();
    pairs[0].at.focus();
  });
  document.addEventListener("ohm:unit", followUnit);
  openForm(form);
  followUnit();
  look();
}

const form = formOf("which");
if (form) whichForm(form);
