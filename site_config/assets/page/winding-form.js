// The part page's winding form: each pair of leads in, one verdict on all of them out.

import { Refusal, statement } from "../answers/statement.js";
import { answerWindings, windingRefusals } from "../answers/winding.js";
import { UNNAMED, mayBeUnnamed } from "../answers/winding-unnamed.js";
import { sentence } from "../words/phrase.js";
import { el, part } from "./element.js";
import { lineAt } from "./earlier-line.js";
import { accept, askWhich, fieldsOf, formOf, openForm, refuse, retype } from "./fields.js";
import { placedTemperature } from "./placed-temperature.js";
import { kit, toolsOf } from "./team.js";
import { typedC } from "./typed-c.js";
import { unit } from "./unit.js";
import { verdictBox } from "./verdict-box.js";
import { familiesOf, visitForm } from "./visit-form.js";
import { windingTable } from "./winding-table.js";

/** @typedef {import("../answers/winding.js").WindingAnswer} WindingAnswer */
/** @typedef {import("../answers/winding-reading.js").WindingFacts} WindingFacts */
/** @typedef {import("./earlier.js").Measurement} Measurement */
/** @typedef {import("./placed-temperature.js").PlacedTemperature} PlacedTemperature */
/** A pair of leads, where its reading is typed and where what is wrong with it is said.
 * @typedef {{pair: string, input: HTMLInputElement, says: HTMLElement}} Row */
/** What the form is made of.
 * @typedef {{form: HTMLFormElement, facts: WindingFacts, rows: Row[], at: PlacedTemperature,
 *   meter: HTMLSelectElement}} Winding */

/** @param {HTMLFormElement} form @param {WindingFacts} facts the entry's */
function windingForm(form, facts) {
  const field = fieldsOf(form);
  const [family] = familiesOf(form);
  const of = form.dataset.part || "";
  /** @type {HTMLSelectElement} */
  const meter = field["winding-meter"];
  // The last three stand folded: leads whose names nobody knows.
  const pairs = [...Object.keys(facts.pairs), ...(mayBeUnnamed(facts) ? UNNAMED : [])];
  const rows = pairs.map((pair, i) => {
    /** @type {HTMLInputElement} */
    const input = field[`winding-${i + 1}`];
    return { pair, input, says: part(form, `#${input.id}-says`) };
  });
  const at = placedTemperature(form, {
    name: "winding-at", how: "winding-how", family, place: `part:${of}`,
    changed: (why) => { if (why === "unit") visit.show(); else visit.typed(); },
  });
  const winding = { form, facts, rows, at, meter };
  const visit = visitForm(form, {
    what: "windings", of, readings: rows.map(({ input }) => input),
    typed: () => typedIn(winding), line, look: () => look(winding), at,
  });
  meter.addEventListener("change", () => visit.typed());
  openForm(form);
  visit.show();
}

/** @param {Winding} winding @returns {?Object<string, any>} what the job keeps of it */
function typedIn({ rows, at, meter }) {
  /** @type {Object<string, string>} */
  const readings = {};
  rows.forEach(({ pair, input }) => {
    const reading = input.value.trim();
    if (reading) readings[pair] = reading;
  });
  return Object.keys(readings).length
    ? { ...typedC(at), readings, meter: meter.value } : null;
}

/** @param {Measurement} read */
function line({ typed }) {
  const pairs = Object.keys(typed.readings).map((pair) =>
    statement("earlier-reading.winding", { pair, typed: typed.readings[pair] }));
  return lineAt(typed, statement("earlier-reading.windings", { pairs }));
}

/** @param {Winding} winding @returns {string} the verdict, or nothing */
function look(winding) {
  const { form, facts, rows, at, meter: choice } = winding;
  const answer = part(form, "output");
  const more = part(form, ".ohm-more");
  [answer, more, ...rows.map(({ says }) => says)].forEach((place) => place.replaceChildren());
  accept(part(form, "#winding-at"), answer);
  rows.forEach(({ input, says }) => accept(input, says));
  const { meter } = toolsOf({ meter: choice.value });
  if (!meter) return "";
  /** @type {Array<[string, string]>} */
  const readings = rows.map(({ pair, input }) => [pair, input.value]);
  const question = { part: facts, readings, at: at.text(), unit: unit.now(), meter, kit: kit() };
  windingRefusals(question).forEach((refused) => {
    rows.filter((row) => row.pair === refused.field).forEach((row) => refuseRow(row, refused));
  });
  try {
    const found = answerWindings(question);
    answer.replaceChildren(...verdict(found));
    more.replaceChildren(windingTable(found), notes(found));
    return found.state;
  } catch (refused) {
    if (!(refused instanceof Refusal)) throw refused;
    sayRefused(refused, { form, answer });
    return "";
  }
}

/** @param {Row} row @param {Refusal} refused */
function refuseRow({ input, says }, { statement: why, choices }) {
  refuse(says, sentence(why), input);
  if (choices.length) says.append(askWhich(choices, (instead) => retype(input, instead)));
}

/** What is wrong with a reading stands beside its field already.
 * @param {Refusal} refused @param {{form: HTMLFormElement, answer: HTMLElement}} where */
function sayRefused({ statement: why, field, missing }, { form, answer }) {
  const words = sentence(why, { unit: unit.now() });
  if (missing) answer.textContent = words;
  else if (field === "at") refuse(answer, words, part(form, "#winding-at"));
}

/** @param {WindingAnswer} found @returns {HTMLElement[]} the verdict, and what follows */
function verdict(found) {
  const voice = { unit: found.unit };
  const headline = sentence(found.headline, voice);
  const ways = found.better.map(({ name }) => name);
  const advice = (ways.length ? [statement("winding.take", { ways })] : []).concat(found.advice);
  return [
    ...(found.names ? [el("p", "ohm-lead", sentence(found.names, voice))] : []),
    found.state ? verdictBox(found.state, headline) : el("p", null, headline),
    el("p", null, advice.map((step) => sentence(step, voice)).join(" ")),
  ];
}

/** @param {WindingAnswer} found @returns {HTMLElement} what it was held against, and how */
function notes({ unit: shownUnit, read, notes: held }) {
  const sentences = [read, ...held].map((note) => sentence(note, { unit: shownUnit }));
  return el("p", "ohm-hint", sentences.join(" "));
}

const form = formOf("winding");
if (form) windingForm(form, JSON.parse(form.dataset.facts || "{}"));
