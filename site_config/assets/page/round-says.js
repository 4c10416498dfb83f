// Say the answer of a round where it belongs: beside each sensor, under each place, under all.

import { OWN_PLACE } from "../answers/round-places.js";
import { statement } from "../answers/statement.js";
import { capital, nameOf, phrase, sentence } from "../words/phrase.js";
import { el } from "./element.js";
import { accept, refuse } from "./fields.js";
import { unit } from "./unit.js";
import { verdictBadge, verdictBox, verdictWord } from "./verdict-box.js";

/** @typedef {import("../answers/round.js").RoundAnswer} RoundAnswer */
/** @typedef {import("../answers/round-outcome.js").PlaceAnswer} PlaceAnswer */
/** @typedef {import("../answers/round-places.js").PlaceReference} PlaceReference */
/** @typedef {import("../answers/round-places.js").RestingSensor} RestingSensor */
/** @typedef {import("../answers/round-rows.js").RoundRow} RoundRow */
/** @typedef {import("../answers/statement.js").Statement} Statement */
/** A sensor's line of the form.
 * @typedef {{sensor: RestingSensor, input: HTMLInputElement, says: HTMLElement}} RowFields */

/** @param {Statement[]} statements @returns {string} */
export function roundSentences(statements) {
  return statements.map((finding) => sentence(finding, { unit: unit.now() })).join(" ");
}

/** @param {RoundRow} found @returns {string} what stands beside its badge */
export function rowSentences({ readsAs, beside }) {
  return roundSentences(readsAs ? [readsAs, ...beside] : beside);
}

/** @param {RoundRow} found @returns {string} its state and what was found, for a text */
export function rowFinding(found) {
  const words = rowSentences(found);
  return found.state ? `${verdictWord(found.state)}. ${words}`.trim() : words;
}

/** @param {RowFields} row @param {RoundRow|undefined} found nothing where nothing is typed */
export function showRow({ input, says }, found) {
  says.replaceChildren();
  accept(input, says);
  if (!found) return;
  if (found.refusal) {
    refuse(says, sentence(found.refusal), input);
    return;
  }
  const words = rowSentences(found);
  says.append(found.state ? verdictBadge(found.state) : "", found.state ? `. ${words}` : words);
}

/** @param {HTMLInputElement} input @param {HTMLElement} says
 * @param {PlaceReference|undefined} found nothing where no temperature is typed */
export function showReference(input, says, found) {
  says.replaceChildren();
  accept(input, says);
  if (!found || !found.refusal) return;
  const words = sentence(found.refusal, { unit: unit.now() });
  if (found.missing) says.append(el("span", "ohm-hint", words));
  else refuse(says, words, input);
}

/** @param {HTMLElement} output @param {PlaceAnswer|undefined} found */
export function showPlace(output, found) {
  say(output, found ? [outcomeBox(found)] : []);
}

/** What to do first, in one sentence; what concerns several places.
 * @param {HTMLElement} output @param {RoundAnswer} found */
export function showRound(output, { first, places, exchange, against }) {
  const box = first && (places.length > 1 || !first.place)
    ? verdictBox(first.state, roundSentences([firstSentence(first)]), capital(phrase(first.title)))
    : null;
  if (box && exchange) box.append(el("p", "ohm-verdict-why", roundSentences([exchange])));
  const note = against.length ? el("p", "ohm-note", roundSentences(against)) : null;
  say(output, [box, note]);
}

/** @param {import("../answers/round-first.js").RoundFirst} first @returns {Statement} */
export function firstSentence({ place, step }) {
  if (!place || place.startsWith(OWN_PLACE)) return statement("round.first", { step });
  return statement("round.first-there", { place, step });
}

/** @param {PlaceAnswer} found @returns {HTMLElement} */
function outcomeBox({ state, title, statements, next }) {
  const box = verdictBox(state, roundSentences(statements), capital(phrase(title)));
  next.forEach((step) => {
    const lead = el("strong", null, `${nameOf("form", "next")} `);
    box.append(el("p", "ohm-next", lead, roundSentences([step])));
  });
  return box;
}

/** A screen reader reads out what changes: what says the same is left alone.
 * @param {HTMLElement} output @param {Array<HTMLElement|null>} inner */
function say(output, inner) {
  const made = el("div", null, ...inner);
  if (output.innerHTML === made.innerHTML) return;
  output.replaceChildren(...Array.from(made.childNodes));
}
