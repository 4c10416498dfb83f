// The answer to a reading on the page: the verdict, what else would explain it, what to do next.

import { SAME_K } from "../answers/reading.js";
import { statement } from "../answers/statement.js";
import { formatOhm } from "../numbers/rounding.js";
import { nameOf, ohmSpan, phrase, sentence } from "../words/phrase.js";
import { el, facts } from "./element.js";
import { sayApart, sayT } from "./figures.js";
import { strip } from "./strip.js";
import { unit } from "./unit.js";
import { verdictBox } from "./verdict-box.js";

/** @typedef {import("../answers/reading.js").ReadingAnswer} ReadingAnswer */
/** @typedef {import("../answers/reading-next.js").NextStep} NextStep */
/** @typedef {import("../answers/reading-settling.js").Settling} Settling */
/** @typedef {import("../words/phrase.js").Voice} Voice */
/** What the entries say of each instruction, the code's and the sensor's; shown: the code as the
 * machine shows it.
 * @typedef {{code: Object<string, string>, sensor: Object<string, string>, shown: string}} Steps */

/** @param {HTMLElement} where @param {ReadingAnswer} found */
export function showVerdict(where, found) {
  const voice = { unit: unit.now(), digits: found.digits };
  where.replaceChildren(
    verdictBox(found.state, sentence(found.headline, voice)),
    el("p", "ohm-beside", found.beside.concat(found.excluded ? found.excluded.statements : [])
      .map((finding) => sentence(finding, voice)).join(" ")));
}

/** @param {ReadingAnswer} found @param {Steps} steps
 * @returns {Element[]} what else would explain it, what would settle it, what is next, figures */
export function beyondVerdict(found, steps) {
  const voice = { unit: unit.now(), digits: found.digits };
  return [
    ...explanations(found, voice), ...settling(found.settling, voice),
    ...nextSteps(found.next, steps, voice), ...(found.excluded ? strip(found.excluded) : []),
    figures(found),
  ];
}

/** @param {ReadingAnswer} found @param {Voice} voice @returns {HTMLElement[]} */
function explanations(found, voice) {
  if (!found.explanations.length) return [];
  return [el("p", "ohm-also", el("strong", null, nameOf("form", "also-fits"))),
    el("ul", null, ...found.explanations.map((explained) =>
      el("li", null, sentence(explained.statement, voice)))),
    ...found.counted.map((other) => el("p", "ohm-beside", sentence(other, voice)))];
}

/** @param {?Settling} found @param {Voice} voice
 * @returns {HTMLElement[]} what to read next, and why */
function settling(found, voice) {
  if (!found) return [];
  const ways = found.ways.map((way) => way.statement);
  const statements = found.statements.concat(found.otherwise ? [found.otherwise] : []);
  return [
    ...(ways.length ? [step("next", phrase(statement("settling.ways", { ways }), voice))] : []),
    el("p", "ohm-settle", statements.map((why) => sentence(why, voice)).join(" ")),
  ];
}

/** What tells comes first; what the entries say holds of a reading that stays so.
 * @param {NextStep} next @param {Steps} steps @param {Voice} voice @returns {HTMLElement[]} */
function nextSteps({ first, instruction, whose }, { code, sensor, shown }, voice) {
  const telling = first.map((step) => sentence(step, voice)).join(" ");
  const words = instruction === "proved" ? sentence(statement("reading.proved"))
    : (whose === "code" ? code : sensor)[instruction] || "";
  const under = whose === "code" && shown ? `${phrase(statement("reading.under-code", { shown }))} ` : "";
  /** @type {HTMLElement[]} */
  const found = [];
  if (telling) found.push(step("next", telling));
  if (words) found.push(step(telling ? "stays" : "next", under + words));
  return found;
}

/** @param {string} name @param {string} words */
function step(name, words) {
  return el("p", "ohm-next", el("strong", null, `${nameOf("form", name)} `), words);
}

/** @param {number} errorK */
function errorWords(errorK) { return sayApart(Math.abs(errorK) < SAME_K ? 0 : errorK); }

/** @param {ReadingAnswer} found */
function figures({ verdict, digits, tC }) {
  const { lowOhm, highOhm, limitKnown, tImpliedC, errorK, limitK, uncertaintyK } = verdict;
  const expected = limitKnown ? ohmSpan(lowOhm, highOhm, digits) : formatOhm(lowOhm, digits);
  return facts([
    [nameOf("form", "expected"), expected],
    [nameOf("form", "reads-as"), tImpliedC === null ? "" : sayT(tImpliedC)],
    [nameOf("form", "error"), errorK === null || tC === null ? "" : errorWords(errorK)],
    [nameOf("form", "limit"), limitKnown ? `± ${sayApart(limitK)}` : nameOf("form", "unknown")],
    [nameOf("form", "uncertainty"), uncertaintyK === null ? "" : `± ${sayApart(uncertaintyK)}`],
  ]);
}
