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
  `^[>+]?(?:[O0]\\.?L\\.?|open|open circuit|over ?range|∞|inf(?:inity)?) ?[kM]?${UNIT}?$`, "i");
const TEMPERATURE = /^([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)) ?(?:°|º|deg)? ?([CFK]?)$/i;
const SOME_OHM = "write it as 480, 6.32k, 6k32 or 1.2M";
const SOME_T = "write it as 7, -10, 7.5 or 45F";
const ABSOLUTE_ZERO_C = -273.15;

/** @param {string} text @returns {string} one kind of minus, one kind of space */
function tidy(text) {
  return text.replace(/[−–]/g, "-").replace(/℃/g, "°C").replace(/\s+/g, " ").trim();
}

/** What was typed cannot be read, or could be read two ways; its message says what would work. */
export class Unreadable extends Error {
  /** @param {string} why */
  constructor(why) {
    super(why);
    this.name = "Unreadable";
  }
}

/** @param {string} letter @param {string} text @returns {number} what the letter multiplies by */
function multiplier(letter, text) {
  if (letter === "m") {
    throw new Unreadable(`'${text}' could be milliohms or megohms; write M for megohms, or milliohms ` +
      "as 0R22");
  }
  return TIMES[letter === "k" || letter === "K" ? "k" : letter.toUpperCase()];
}

/**
 * @param {string} text what was typed: 480, 6.32k, 6,32k, 6k32, 4R7, 1M2; Ω or ohm may follow
 * @returns {number} ohms, not below zero
 * @throws {Unreadable} with what would work, also where it could be read two ways
 */
export function parseOhm(text) {
  const typed = tidy(text);
  if (typed.startsWith("-")) {
    throw new Unreadable(`'${text}' is below zero; a resistance is not: ${SOME_OHM}`);
  }
  const letter = LETTER.exec(typed);
  if (letter) {
    const times = multiplier(letter[2], text);
    return Number(`${letter[1] || "0"}.${letter[3]}`) * times;
  }
  const plain = PLAIN.exec(typed);
  if (!plain) {
    throw new Unreadable(OPEN.test(typed)
      ? `'${text}' is an open circuit, not a resistance; ${SOME_OHM}`
      : `'${text}' is not a resistance; ${SOME_OHM}`);
  }
  const [, number, power = "", suffix] = plain;
  const times = multiplier(suffix, text);
  if (!suffix && GROUPED.test(number)) {
    const point = number.split(",").length === 2 ? ` or ${number.replace(",", ".")}` : "";
    throw new Unreadable(
      `'${text}' could have a decimal comma or a comma for thousands; ` +
        `write ${number.replace(/,/g, "")}${point}`);
  }
  const ohm = Number(number.replace(/ /g, "").replace(",", ".") + power) * times;
  // 1,234,567k is no number, and 1e999 no resistance but an open circuit by accident.
  if (!(ohm < Infinity)) {
    const fault = ohm === Infinity ? "beyond any" : "not a";
    throw new Unreadable(`'${text}' is ${fault} resistance; ${SOME_OHM}`);
  }
  return ohm;
}

/**
 * @param {string} text a meter's display
 * @returns {number} ohms; Infinity for OL, open, ∞
 * @throws {Unreadable} with what would work
 */
export function parseReading(text) {
  if (OPEN.test(tidy(text))) return Infinity;
  try {
    return parseOhm(text);
  } catch (unreadable) {
    throw new Unreadable(`${/** @type {Error} */ (unreadable).message}, or OL for over range`);
  }
}

/**
 * @param {string} text 7, −10, 7,5, 45F @param {string} [unit] C or F: what a bare number is in
 * @returns {number} °C
 * @throws {Unreadable}
 */
export function parseTemperature(text, unit = "C") {
  const found = TEMPERATURE.exec(tidy(text));
  if (!found) throw new Unreadable(`'${text}' is not a temperature; ${SOME_T}`);
  const given = (found[2] || unit).toUpperCase();
  if (given === "K") throw new Unreadable(`'${text}' is in kelvin; ${SOME_T}`);
  const number = Number(found[1].replace(",", "."));
  const tC = given === "F" ? ((number - 32) * 5) / 9 : number;
  if (tC < ABSOLUTE_ZERO_C) throw new Unreadable(`'${text}' is below absolute zero; ${SOME_T}`);
  return tC;
}
