// Which curve is this? From one to five readings: what fits, what does not, and where two would part.

import { statement } from "../answers/statement.js";
import { answerWhich } from "../answers/which.js";
import { remember, rememberedAs } from "../look.js";
import { gridOf } from "../numbers/grid.js";
import { parseTemperature } from "../numbers/notation.js";
import { capital, phrase, sentence } from "../words/phrase.js";
import { el, link, part, parts } from "./element.js";
import { accept, fieldsOf, formOf, openForm, refuse, rememberedChoice } from "./fields.js";
import { typedT } from "./figures.js";
import { toolsOf } from "./team.js";
import { unit } from "./unit.js";
import { verdictBox } from "./verdict-box.js";

/** @typedef {import("../answers/which.js").RankedCurve} RankedCurve */
/** @typedef {import("../answers/which.js").ReadPair} ReadPair */
/** @typedef {import("../answers/which.js").WhichAnswer} WhichAnswer */
/** One reading: where it is typed, and where what is wrong with it is said.
 * @typedef {{li: HTMLElement, at: HTMLInputElement, reading: HTMLInputElement,
 *   says: HTMLElement}} Pair */

const KEY = "ohm.which";
/** So many sensors are named that have a curve. */
const NAMED = 4;

/** @param {HTMLFormElement} form */
function whichForm(form) {
  /** @type {Object<string, {name: string, href: string, on: string[]}>} */
  const entries = JSON.parse(form.dataset.curves || "{}");
  /** @type {Object<string, import("../numbers/grid.js").Grid>} */
  const curves = {};
  /** @type {Object<string, string>} */
  const names = {};
  Object.keys(entries).forEach((id) => {
    const grid = gridOf(id);
    if (!grid) return;
    curves[id] = grid;
    names[id] = entries[id].name;
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
    /** @type {string[][]} */
    const typedBefore = rememberedAs(KEY, [[""]]) || [];
    typedBefore.slice(0, pairs.length).forEach(([at = "", reading = ""], i) => {
      pairs[i].at.value = at;
      pairs[i].reading.value = reading;
      pairs[i].li.hidden = false;
    });
  }

  function typed() {
    const now = pairs.filter(filled).map(({ at, reading }) => [at.value, reading.value]);
    remember(KEY, now.length ? JSON.stringify(now) : null);
    show();
  }

  function show() {
    const found = answerWhich({
      curves, names, unit: unit.now(),
      pairs: pairs.map(({ at, reading }) => [at.value, reading.value]),
      tools: toolsOf({
        meter: field.meter.value, thermometer: field.thermometer.value,
        how: field["which-how"].value,
      }),
    });
    found.pairs.forEach((read, i) => sayPair(pairs[i], read));
    clear.hidden = !pairs.some(filled);
    another.hidden = !pairs.some((pair) => pair.li.hidden);
    showFound(found);
  }

  /** @param {Pair} pair @param {ReadPair} read */
  function sayPair({ at, reading, says }, { field: asked, refusal }) {
    says.replaceChildren();
    [at, reading].forEach((input) => accept(input, says));
    if (refusal) {
      const input = asked === "how" ? undefined : asked === "reading" ? reading : at;
      refuse(says, sentence(refusal, { unit: unit.now() }), input);
    }
  }

  /** @param {WhichAnswer} found */
  function showFound({ state, title, advice, fitting, missing }) {
    const voice = { unit: unit.now() };
    const why = advice.map((step) => sentence(step, voice)).join(" ");
    more.replaceChildren();
    if (!state) {
      answer.textContent = why;
      return;
    }
    answer.replaceChildren(verdictBox(state, why, capital(phrase(title, voice))));
    if (fitting.length) more.append(el("ol", "ohm-ranking", ...fitting.map(fittingRow)));
    if (!missing.length) return;
    more.append(el("details", null,
      el("summary", null, phrase(statement("which.missing-fold", { count: missing.length }))),
      el("ul", null, ...missing.map((ranked) => el("li", null,
        `${phrase(ranked.statement, voice)}: `, linkTo(ranked.curve))))));
  }

  /** @param {string} id */
  function linkTo(id) { return link(entries[id].name, entries[id].href); }

  /** @param {RankedCurve} ranked */
  function fittingRow(ranked) {
    const notes = [ranked.statement, sensorsOn(entries[ranked.curve].on)];
    return el("li", null, linkTo(ranked.curve),
      el("p", "ohm-note", notes.map((note) => sentence(note, { unit: unit.now() })).join(" ")));
  }

  /** A temperature that was typed follows the page's unit. */
  function followUnit() {
    const was = before;
    before = unit.now();
    parts(form, "[data-unit]").forEach((sign) => { sign.textContent = `°${before}`; });
    if (was === before) return;
    pairs.forEach(({ at }) => {
      try { at.value = typedT(parseTemperature(at.value, was)); } catch (unreadable) { /* as typed */ }
    });
    typed();
  }

  [field.meter, field.thermometer].forEach(rememberedChoice);
  recall();
  pairs.forEach((pair) => {
    pair.at.addEventListener("input", typed);
    pair.reading.addEventListener("input", typed);
  });
  [field["which-how"], field.meter, field.thermometer].forEach((choice) => {
    choice.addEventListener("change", show);
  });
  another.addEventListener("click", () => {
    const next = pairs.find(({ li }) => li.hidden);
    if (!next) return;
    next.li.hidden = false;
    next.at.focus();
    show();
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
  show();
}

/** @param {string[]} on the sensors that have a curve */
function sensorsOn(on) {
  if (!on.length) return statement("which.on-none");
  const names = on.slice(0, NAMED);
  return on.length > NAMED ? statement("which.on-more", { names, count: on.length - NAMED })
    : statement("which.on", { names });
}

const form = formOf("which");
if (form) whichForm(form);
