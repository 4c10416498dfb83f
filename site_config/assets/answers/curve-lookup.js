// A curve both ways: what it reads at a temperature, and which temperature a reading stands for.
// Mirrors kb/answers/curve_lookup.py.

import { OutOfRange } from "../numbers/out-of-range.js";
import { ohmDigits } from "../numbers/ohm-digits.js";
import { Refusal, statement } from "./statement.js";
import { typedReadingOhm, typedTemperature } from "./typed.js";

/**
 * @typedef {import("../numbers/grid.js").Grid} Grid
 * @typedef {{curve: Grid, curveId: string, unit?: string}} Lookup
 * One point of a curve, with what a good part may read there; null where nobody knows that.
 * @typedef {{unit: string, digits: number, tC: number, rOhm: number, lowOhm: ?number,
 *   highOhm: ?number, tolK: ?number,
 *   statements: import("./statement.js").Statement[]}} LookedUp
 */

/** @param {string} text a temperature @param {Lookup} on @returns {LookedUp}
 * @throws {Refusal} missing, unreadable, or not one the curve holds for */
export function ohmAt(text, { curve, curveId, unit }) {
  const at = temperatureOn(text, { curve, curveId, unit });
  return lookedUp(curve, { tC: at.tC, rOhm: curve.ohm(at.tC), unit: at.unit });
}

/** @param {string} text a reading @param {Lookup} on @returns {LookedUp}
 * @throws {Refusal} missing, unreadable, over range, or off the curve */
export function temperatureOf(text, { curve, curveId, unit = "C" }) {
  const rOhm = typedReadingOhm(text, { field: "reading", metered: false });
  if (rOhm === Infinity) throw new Refusal(statement("curve.over-range"), { field: "reading" });
  const off = statement("curve.off",
    { curve: curveId, shown_ohm: rOhm, low_ohm: curve.lowOhm, high_ohm: curve.highOhm });
  const tC = inRange(() => curve.tC(rOhm), () => new Refusal(off, { field: "reading" }));
  return lookedUp(curve, { tC, rOhm, unit });
}

/** @param {string} text a temperature @param {Lookup} on
 * @returns {import("./typed.js").TypedTemperature} one that the curve holds for
 * @throws {Refusal} as ohmAt */
export function temperatureOn(text, { curve, curveId, unit = "C" }) {
  if (!text.trim()) {
    throw new Refusal(statement("curve.temperature-missing"), { field: "at", missing: true });
  }
  const at = typedTemperature(text, { field: "at", unit });
  inRange(() => curve.ohm(at.tC), () => new Refusal(statement("curve.beyond", {
    curve: curveId, t_c: at.tC, low_c: curve.lowC, high_c: curve.highC,
  }), { field: "at" }));
  return at;
}

/** @param {function(): number} ask @param {function(): Refusal} refused
 * @returns {number} what was asked, or the refusal where it is out of range */
function inRange(ask, refused) {
  try {
    return ask();
  } catch (error) {
    if (error instanceof OutOfRange) throw refused();
    throw error;
  }
}

/** @param {Grid} curve @param {{tC: number, rOhm: number, unit: string}} point
 * @returns {LookedUp} */
function lookedUp(curve, { tC, rOhm, unit }) {
  const digits = ohmDigits(curve);
  if (!curve.toleranceKnown) {
    return { unit, digits, tC, rOhm, lowOhm: null, highOhm: null, tolK: null,
      statements: [statement("curve.no-tolerance")] };
  }
  const [lowOhm, highOhm, tolK] = [curve.low(tC), curve.high(tC), curve.tolK(tC)];
  return { unit, digits, tC, rOhm, lowOhm, highOhm, tolK,
    statements: [statement("curve.good-part", { part_ohm: [lowOhm, highOhm], tol_k: tolK })] };
}
