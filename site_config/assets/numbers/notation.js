// Read what people type: ohms, a meter's OL, temperatures. Mirrors kb/numbers/notation.py.

/** @type {Object<string, number>} */
const TIMES = { "": 1, R: 1, k: 1e3, M: 1e6, G: 1e9 };
const UNIT = "(?:[\u03a9\u2126\u03c9]|ohms?)"; // Greek letter, ohm sign, its small form
const DIGITS = "(?:\\d+|\\d{1,3}(?: \\d{3})+)";
const PLAIN = new RegExp(
  `^(${DIGITS}(?:[.,]\\d*)?|[.,]\\d+|[1-9]\\d{0,2}(?:,\\d{3})+)` +
    `(e[+-]?\\d+)? ?([RkMG]?) ?${UNIT}?$`, "i");
const LETTER = new RegExp(`^(\\d*)([RkMG])(\\d+) ?${UNIT}?$`, "i");
const GROUPED = /^[1-9]\d{0,2}(,\d{3})+$/;
const OPEN = new RegExp(
  "^[>+]?(?:[O0]\\.?L\\.?|open|open circuit|over ?range|∞|inf(?:inity)?|offen|(?:[üÜ]|ue?)berlauf|" +
    `unendlich) ?[kM]?${UNIT}?$`, "i");
const TEMPERATURE = /^([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)) ?(?:°|º|deg|grad)? ?([CFK]?)$/i;
const ABSOLUTE_ZERO_C = -273.15;

/** @param {string} text @returns {string} one kind of minus, one kind of space */
function tidy(text) {
  return text.replace(/[−–]/g, "-").replace(/℃/g, "°C").replace(/\s+/g, " ").trim();
}

/** What was typed has no meaning, or two: an id of the catalogue's section unreadable, and what stands
 * in its sentence. */
export class Unreadable extends Error {
  /** @param {string} why @param {Object<string, string>} figures */
  constructor(why, figures) {
    super(why);
    this.figures = figures;
  }
}

/** @param {string} letter @param {string} text @returns {number} what the letter multiplies by */
function multiplier(letter, text) {
  if (letter === "m") {
    throw new Unreadable("milli", { typed: text });
  }
  return TIMES[letter === "k" || letter === "K" ? "k" : letter.toUpperCase()];
}

/**
 * @param {string} text what was typed: 480, 6.32k, 6,32k, 6k32, 4R7, 1M2; Ω or ohm may follow
 * @returns {number} ohms, not below zero
 * @throws {Unreadable} also where it could be read two ways
 */
export function parseOhm(text) {
  const typed = tidy(text);
  if (typed.startsWith("-")) {
    throw new Unreadable("below-zero", { typed: text });
  }
  const letter = LETTER.exec(typed);
  if (letter) {
    const times = multiplier(letter[2], text);
    return Number(`${letter[1] || "0"}.${letter[3]}`) * times;
  }
  const plain = PLAIN.exec(typed);
  if (!plain) {
    throw new Unreadable(OPEN.test(typed) ? "open" : "ohm", { typed: text });
  }
  const [, number, power = "", suffix] = plain;
  const times = multiplier(suffix, text);
  if (!suffix && GROUPED.test(number)) {
    const whole = number.replace(/,/g, "");
    if (number.split(",").length > 2) throw new Unreadable("thousands", { typed: text, whole });
    const point = number.replace(",", ".");
    throw new Unreadable("thousands-or-point", { typed: text, whole, point });
  }
  const ohm = Number(number.replace(/ /g, "").replace(",", ".") + power) * times;
  // 1,234,567k is no number, and 1e999 no resistance but an open circuit by accident.
  if (!(ohm < Infinity)) {
    throw new Unreadable(ohm === Infinity ? "beyond" : "ohm", { typed: text });
  }
  return ohm;
}

/**
 * @param {string} text a meter's display
 * @returns {number} ohms; Infinity for OL, open, ∞
 * @throws {Unreadable}
 */
export function parseReading(text) {
  return OPEN.test(tidy(text)) ? Infinity : parseOhm(text);
}

/**
 * @param {string} text 7, −10, 7,5, 45F @param {string} [unit] C or F: what a bare number is in
 * @returns {number} °C
 * @throws {Unreadable}
 */
export function parseTemperature(text, unit = "C") {
  const found = TEMPERATURE.exec(tidy(text));
  if (!found) throw new Unreadable("temperature", { typed: text });
  const given = (found[2] || unit).toUpperCase();
  if (given === "K") throw new Unreadable("kelvin", { typed: text });
  const number = Number(found[1].replace(",", "."));
  const tC = given === "F" ? ((number - 32) * 5) / 9 : number;
  if (tC < ABSOLUTE_ZERO_C) throw new Unreadable("absolute-zero", { typed: text });
  return tC;
}
