// Say a statement: its words from the catalogue, its figures by the unit in their names. Mirrors
// kb/words/phrase.py.

import { WORDS } from "../catalog.js";
import {
  formatDeparture, formatK, formatOhm, formatOhmEnds, formatPercent, formatT, formatVolts,
} from "../numbers/rounding.js";

/**
 * How figures are printed: C or F; how many digits of ohms.
 * @typedef {{unit?: string, digits?: number}} Voice
 */

const PLACEHOLDER = /\{(\w+)(?::([^}]*))?\}/g;
/** Of which the build sends what callers of numberOf write out. */
const COUNT = "count";
const VOICE = { unit: "C", digits: 4 };

/** Unit at the end of a figure's name → how it is printed.
 * @type {Object<string, function(number, string, Required<Voice>): string>} */
const FORMATS = {
  c: (tC, spec, { unit }) => formatT(tC, unit, Number(spec || 1)),
  k: (differenceK, spec, { unit }) => {
    const sign = spec === "+" ? (differenceK < 0 ? "−" : "+") : "";
    return sign + formatK(Math.abs(differenceK), unit);
  },
  ohm: (rOhm, spec, { digits }) => formatOhm(rOhm, spec ? Number(spec) : digits),
  v: (volts, spec) => formatVolts(volts, Number(spec || 2)),
  share: (share, spec) =>
    (spec === "+" ? formatDeparture(share) : formatPercent(share, Number(spec || 2))),
};

/**
 * @param {import("../answers/statement.js").Statement} statement @param {Voice} [voice]
 * @returns {string} its first letter small
 * @throws {RangeError} where the catalogue lacks the words or the statement a figure
 */
export function phrase(statement, voice = VOICE) {
  return template(statement.id).replace(PLACEHOLDER, (_, name, spec) => {
    if (!(name in statement.figures)) throw new RangeError(`'${statement.id}' has no figure '${name}'`);
    return shown(statement.figures[name], name, spec || "", { ...VOICE, ...voice });
  });
}

/** @param {import("../answers/statement.js").Statement} statement @param {Voice} [voice]
 * @returns {string} with a capital first and a full stop last */
export function sentence(statement, voice) {
  const words = capital(phrase(statement, voice));
  return /[.!?]$/.test(words) ? words : `${words}.`;
}

/**
 * A sentence with one figure to be set apart, wherever the language puts it.
 * @param {import("../answers/statement.js").Statement} statement
 * @param {string} name @param {Voice} [voice]
 * @returns {string[]} what stands before the figure, the figure, what stands after it
 */
export function phraseAround(statement, name, voice = VOICE) {
  const figure = shown(statement.figures[name], name, "", { ...VOICE, ...voice });
  const whole = phrase(statement, voice);
  const at = whole.indexOf(figure);
  return [capital(whole.slice(0, at)), figure, whole.slice(at + figure.length)];
}

/** @param {string} id @param {Object<string, *>} [figures]
 * @returns {string} the words of an id with these figures, as they stand in the catalogue */
export const inWords = (id, figures = {}) => phrase({ id, figures });

/** @param {number} lowOhm @param {number} highOhm @param {number} [digits] 4
 * @returns {string} such as 11.95 to 12.23 kΩ */
export function ohmSpan(lowOhm, highOhm, digits) {
  const [low, high] = formatOhmEnds(lowOhm, highOhm, digits);
  return inWords("span.ohm", { low, high });
}

/** @param {string} id @param {Object<string, string|HTMLElement>} inner by placeholder
 * @returns {Array<string|HTMLElement>} the words of an id, with elements where its figures stand */
export const wordsAround = (id, inner) =>
  template(id).split(/\{(\w+)\}/).map((piece, i) => (i % 2 ? inner[piece] : piece));

/** @param {string} things an entry of the catalogue's section count @param {number} count
 * @returns {string} 1 fault, 2 faults */
export const numberOf = (things, count) =>
  nameOf(COUNT, things, count === 1 ? "one" : "many").replace("{n}", String(count));

/** @param {string} text @returns {string} */
export const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** @param {string} section @param {string} name @param {string} [form]
 * @returns {string} the name of a verdict, the label of a placement */
export function nameOf(section, name, form = "name") {
  const found = WORDS[section] && WORDS[section][name];
  if (!found || typeof found[form] !== "string") {
    throw new RangeError(`the catalogue of words has no ${form} of '${section}.${name}'`);
  }
  return found[form];
}

/** @param {string[]} items @param {string} [joiner] an entry of the catalogue's section list
 * @returns {string} a, b and c */
export function listed(items, joiner = "and") {
  if (items.length < 2) return items.join("");
  const { between, last } = WORDS.list[joiner];
  return items.slice(0, -1).join(between) + last + items[items.length - 1];
}

/** @param {string} id */
function template(id) {
  const [section, name] = id.split(".");
  const found = WORDS[section] && WORDS[section][name];
  // A caution has more than its words.
  const words = found && typeof found === "object" ? found.words : found;
  if (typeof words !== "string") {
    throw new RangeError(`the catalogue of words has no '${id}'`);
  }
  return words;
}

/** @param {*} value @param {string} name @param {string} spec @param {Required<Voice>} voice
 * @returns {string} */
function shown(value, name, spec, voice) {
  const kind = name.slice(name.lastIndexOf("_") + 1);
  if (Array.isArray(value)) {
    if (kind === "ohm") return ohmOf(value, voice);
    return listed(value.map((item) => shown(item, name, "", voice)), spec || "and");
  }
  if (typeof value === "string") return value;
  if (typeof value === "object") return phrase(value, voice);
  return FORMATS[kind] ? FORMATS[kind](value, spec, voice) : plain(value);
}

/** @param {number[]} ends @param {Required<Voice>} voice */
function ohmOf([lowOhm, highOhm], { digits }) {
  return lowOhm === highOhm ? formatOhm(lowOhm, digits) : ohmSpan(lowOhm, highOhm, digits);
}

/** @param {number} value as the notes say it: a count, minutes, a rated voltage */
function plain(value) { return String(Number(value.toPrecision(6))); }
