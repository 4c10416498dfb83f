// Is a motor's PTC loop sound at this temperature? Mirrors kb/numbers/loop_verdict.py.

import { LOWEST_C, SHORTED_OHM, loopLimitsOhm, usualLeastOhm } from "./switching-ptc.js";
import { expandedK, rectangular } from "./verdict.js";

/**
 * @typedef {{verdict: string, lowOhm: ?number, highOhm: ?number, uncertaintyOhm: ?number,
 *   dominant: ?string}} LoopVerdict within, outside, undecided, open or short
 */

/** @param {import("./switching-ptc.js").Loop} loop
 * @param {import("./instruments.js").Measured} measured @param {{shortOhm: number}} below
 * @returns {LoopVerdict} @throws {RangeError} below −20 °C */
export function judgeLoop(loop, measured, { shortOhm }) {
  const { rOhm, tC } = measured;
  const [least, most] = loopLimitsOhm(loop, tC);
  /** @param {string} verdict @param {?number} uncertaintyOhm @param {?string} [dominant] */
  const answer = (verdict, uncertaintyOhm, dominant = null) => ({
    verdict, lowOhm: least || null, highOhm: most === Infinity ? null : most, uncertaintyOhm,
    dominant,
  });
  const thermometerK = rectangular(measured.thermometerHalfK);
  const placementK = rectangular(measured.placementHalfK);
  const reachK = expandedK(thermometerK, placementK);
  const limits = [Math.max(tC - reachK, LOWEST_C), tC, tC + reachK]
    .map((nearC) => loopLimitsOhm(loop, nearC));
  if (rOhm === Infinity) {
    return answer(limits.every(([, highest]) => highest < Infinity) ? "open" : "undecided", null);
  }
  const uncertaintyOhm = 2 * rectangular(measured.meterHalfOhm);
  if (rOhm < shortOhm || rOhm + uncertaintyOhm < SHORTED_OHM) return answer("short", uncertaintyOhm);
  if (rOhm - uncertaintyOhm < SHORTED_OHM) return answer("undecided", uncertaintyOhm, "short");
  const states = limits.map((limit) => stateOf(rOhm, uncertaintyOhm, limit));
  /** @param {string} state */
  const sure = (state) => state === "within" || state === "outside";
  if (!states.includes("outside") && rOhm < usualLeastOhm(loop)) {
    return answer("undecided", uncertaintyOhm, "usual");
  }
  if (states.every((state) => state === states[0]) && sure(states[0])) {
    return answer(states[0], uncertaintyOhm);
  }
  let dominant = null;
  if (sure(states[1])) dominant = placementK > thermometerK ? "placement" : "thermometer";
  else if (states[1] === "close") dominant = "meter";
  return answer("undecided", uncertaintyOhm, dominant);
}

/** @param {number} rOhm @param {number} uncertaintyOhm @param {number[]} limits least and most
 * @returns {string} within, outside, close to a limit, or free where there is none */
function stateOf(rOhm, uncertaintyOhm, [least, most]) {
  if (least === 0 && most === Infinity) return "free";
  if (rOhm + uncertaintyOhm < least || rOhm - uncertaintyOhm > most) return "outside";
  const above = least === 0 || rOhm - uncertaintyOhm >= least;
  return above && rOhm + uncertaintyOhm <= most ? "within" : "close";
}
