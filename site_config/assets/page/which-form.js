// Which curve is this? From one to five readings: what fits, what does not, and where two would part.

import { remember, remembered } from "../look.js";
import { gridOf } from "../numbers/grid.js";
import { taken } from "../numbers/instruments.js";
import { parseOhm, parseTemperature } from "../numbers/notation.js";
import { formatT } from "../numbers/rounding.js";
import { whichCurve } from "../numbers/which-curve.js";
import { el, link } from "./element.js";
import { accept, readField, refuse, rememberedChoice } from "./fields.js";
import { sayK, sayT } from "./figures.js";
import { unit } from "./unit.js";
import { verdictBox } from "./verdict-box.js";

function whichForm(form) {
  const KEY = "ohm.which";
  const told = JSON.parse(form.dataset.curves);
  const curves = {};
  Object.keys(told).forEach((id) => { curves[id] = gridOf(id); });
  const field = form.elements;
  const answer = form.querySelector("output");
  const more = form.querySelector(".ohm-more");
  const clear = form.querySelector("[data-clear]");
  const another = form.querySelector("[data-more]");
  let before = unit.now();
  const pairs = Array.from(form.querySelectorAll(".ohm-pairs > li")).map((li) => {
    const inputs = li.querySelectorAll("input");
    const says = el("p", "ohm-pair-says");
    li.append(says);
    return { li, at: inputs[0], reading: inputs[1], says };
  });

  function filled(pair) { return pair.at.value.trim() || pair.reading.value.trim(); }

  function recall() {
    let before = [];
    try { before = JSON.parse(remembered(KEY) || "[]") || []; } catch (broken) { /* begin anew */ }
    before.slice(0, pairs.length).forEach((one, i) => {
      pairs[i].at.value = one[0];
      pairs[i].reading.value = one[1];
      pairs[i].li.hidden = false;
    });
  }

  function typed() {
    const told = pairs.filter(filled).map((pair) => [pair.at.value, pair.reading.value]);
    remember(KEY, told.length ? JSON.stringify(told) : null);
    look();
  }

  /** @returns {?object} a reading; null where it is empty, half, or cannot be read */
  function read(pair) {
    pair.says.replaceChildren();
    [pair.at, pair.reading].forEach((one) => { accept(one, pair.says); });
    if (!pair.at.value.trim() || !pair.reading.value.trim()) return null;
    const tC = readField(pair.at, pair.says, (text) => {
      return parseTemperature(text, unit.now());
    });
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
      refuse(pair.says, `${outside.message}.`, pair.at);
      return null;
    }
  }

  function look() {
    const readings = pairs.map(read).filter(Boolean);
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
    if (fitting.length) { more.append(el("ol", "ohm-ranking", ...fitting.map(row))); }
    more.append(others(which.ranking.filter((one) => !one.fits)));
  }

  function verdict(which, fitting) {
    if (!fitting.length) {
      const nearest = which.ranking.find((one) => isFinite(one.worstK));
      return verdictBox("outside", "No curve of these notes fits every reading." + (nearest
        ? ` The nearest is ${told[nearest.curve].name}, up to ${sayK(nearest.worstK)} off.`
        : " None of them even reaches these readings."), "None of ours");
    }
    if (which.separable) {
      return verdictBox("within", `Of ${which.ranking.length} curves only this one fits every reading.`,
        told[fitting[0].curve].name);
    }
    return verdictBox("undecided", part(which.parting, fitting), `${fitting.length} fit: not told apart`);
  }

  /** Honest when two cannot be told apart, and at which temperature they part. */
  function part(parting, fitting) {
    const two = `These readings cannot tell ${told[fitting[0].curve].name} from ` +
      `${told[fitting[1].curve].name}.`;
    if (!parting) { return `${two} The two share no temperature, so take a reading where only one of them holds.`; }
    if (parting.certain) {
      return `${two} Measure at ${sayT(parting.atC)}: there they part by ${sayK(parting.byK)}` +
        `, and ${sayK(parting.neededK)} are enough.`;
    }
    return `${two} They never part for certain with these instruments: at most by ${sayK(parting.byK)}, at ` +
      `${sayT(parting.atC)}, and ${sayK(parting.neededK)} would be needed.`;
  }

  function linkTo(id) { return link(told[id].name, told[id].href); }

  function row(one) {
    const on = told[one.curve].on;
    return el("li", null, linkTo(one.curve),
      el("p", "ohm-note", `At most ${sayK(one.worstK)} off. ` + (on.length
        ? `On ${on.slice(0, 4).join(", ")}${on.length > 4 ? ` and ${on.length - 4} more` : ""}.`
        : "On no sensor of these notes.")));
  }

  function others(list) {
    const fold = el("details", null, el("summary", null, `${list.length} that do not fit`));
    fold.append(el("ul", null, ...list.map((one) => el("li", null,
      isFinite(one.worstK) ? `up to ${sayK(one.worstK)} off: ` : "does not reach a reading: ",
      linkTo(one.curve)))));
    return list.length ? fold : "";
  }

  /** A temperature that was typed follows the page's unit. */
  function followUnit() {
    const was = before;
    before = unit.now();
    form.querySelectorAll("[data-unit]").forEach((one) => { one.textContent = `°${before}`; });
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
  ["which-how", "meter", "thermometer"].forEach((name) => { field[name].addEventListener("change", look); });
  another.addEventListener("click", () => {
    const next = pairs.find((pair) => pair.li.hidden);
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
  form.addEventListener("submit", (event) => { event.preventDefault(); });
  form.hidden = false;
  followUnit();
  look();
}

const form = document.querySelector('[data-calc="which"]');
if (form) whichForm(form);
