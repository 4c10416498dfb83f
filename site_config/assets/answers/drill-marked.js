// Whether a drill was answered rightly, and how far off the answer is. Mirrors
// kb/answers/drill_marked.py.

import { parseOhm, parseReading } from "../numbers/notation.js";
import { statement } from "./statement.js";
import { readTyped, typedTemperature } from "./typed.js";

/**
 * @typedef {import("./drill.js").Drill} Drill
 * offK: above nought where it is too warm; null for what is not typed.
 * @typedef {{right: boolean, offK: ?number, words: import("./statement.js").Statement}} Mark
 */

const HALF_SHARE = 0.1;
const FIELD = "answer";

/** @param {string} typed @param {Drill} drill @param {import("./drill.js").Grid} curve
 * @returns {Mark} @throws {Refusal} of what cannot be read */
export function markResistance(typed, drill, curve) {
  const rOhm = readTyped(typed, FIELD, parseReading);
  if (!(rOhm > 0 && rOhm < Infinity)) return marked(false, "drill.no-temperature");
  return offMark(curve.beyondC(rOhm) - drill.figures.tC, drill);
}

/** @param {string} typed @param {Drill} drill @param {string} [unit] C or F
 * @returns {Mark} @throws {Refusal} of what cannot be read */
export function markTemperature(typed, drill, unit = "C") {
  return offMark(typedTemperature(typed, { field: FIELD, unit }).tC - drill.figures.tC, drill);
}

/** @param {number} place of a choice @param {Drill} drill @returns {Mark} */
export const markChoice = (place, { right }) => plainMark(right.includes(place));

/** @param {string} tapped a pin @param {Drill} drill @returns {Mark} */
export const markTap = (tapped, { pin }) => plainMark(tapped === pin);

/** Suspects that are worth the same by the minute may stand either way.
 * @param {number[]} order places as they were put @param {Drill} drill @returns {Mark} */
export function markOrder(order, { choices, right }) {
  const complete = order.length === choices.length && new Set(order).size === order.length;
  if (!complete) return plainMark(false);
  const worth = choices.map(({ figures }) => figures.part_share / figures.minutes);
  return plainMark(order.every((place, i) => (worth.every((value) => value >= 0)
    ? Math.abs(worth[place] - worth[right[i]]) <= 1e-9 * Math.max(worth[place], worth[right[i]])
    : place === right[i])));
}

/** @param {string} typed @param {string} half not asked of a display that is over range
 * @param {Drill} drill @returns {Mark} @throws {Refusal} of what cannot be read */
export function markDisplay(typed, half, { figures: { shownOhm, halfOhm, digitOhm } }) {
  const rOhm = readTyped(typed, FIELD, parseReading);
  if (shownOhm === Infinity || rOhm === Infinity) return plainMark(shownOhm === rOhm);
  const givenOhm = readTyped(half, FIELD, parseOhm);
  if (Math.abs(rOhm - shownOhm) > digitOhm / 2) return marked(false, "drill.wrong-ohm");
  if (Math.abs(givenOhm - halfOhm) > halfOhm * HALF_SHARE) return marked(false, "drill.wrong-half");
  return plainMark(true);
}

/** @param {number} offK @param {Drill} drill @returns {Mark} */
function offMark(offK, { figures: { limitK } }) {
  const words = statement(`drill.off-${offK > 0 ? "warm" : "cold"}`,
    { off_k: Math.abs(offK), limit_k: limitK });
  return { right: Math.abs(offK) <= limitK, offK, words };
}

/** @param {boolean} right @returns {Mark} */
const plainMark = (right) => marked(right, right ? "drill.right" : "drill.wrong");

/** @param {boolean} right @param {string} id @returns {Mark} */
const marked = (right, id) => ({ right, offK: null, words: statement(id) });
