// One sensor of a machine at rest: is it broken by itself, and which temperature does it show?
// Mirrors kb/numbers/at_rest.py.

import { shortBelowOhm } from "./verdict.js";

/** @typedef {import("./grid.js").Grid} Grid */

/** How far two spots of one place may differ in K. Common practice, no source. */
export const SPREAD_HALF_K = 1;

/**
 * @typedef {{grid: Grid, rOhm: number, meterHalfOhm?: number, allowK?: number,
 *   meterSpanOhm?: number}} Resting
 * The sensors of one place, and what a thermometer shows there.
 * @typedef {{readings: Object<string, Resting>, tC?: ?number, thermometerHalfK?: number,
 *   spreadHalfK?: number}} RestingPlace
 * What a reading shows: ownUK of spot, reading and curve; soundUK with what a sound part may be off.
 * @typedef {{tImpliedC: number, limitK: number, limitKnown: boolean, ownUK: number,
 *   soundUK: number}} Shown
 */

/** @param {Resting} own @param {Resting} other
 * @returns {Resting} the same sensor, had its plug been the other's */
export const withReadingOf = (own, { rOhm, meterHalfOhm, meterSpanOhm }) =>
  ({ ...own, rOhm, meterHalfOhm, meterSpanOhm });

/** @param {Resting} reading @param {?number} shortOhm
 * @returns {string} open, short, undecided or off-curve; nothing where it shows a temperature */
export function brokenState({ grid, rOhm, meterSpanOhm = Infinity }, shortOhm) {
  // A good part could be beyond this meter somewhere on its curve.
  if (rOhm === Infinity) return grid.highOhm < meterSpanOhm ? "open" : "undecided";
  if (rOhm === 0 || rOhm < shortBelowOhm(grid, shortOhm)) return "short";
  return rOhm >= grid.lowOhm && rOhm <= grid.highOhm ? "" : "off-curve";
}

/** @param {Resting} reading on its curve @param {number} spreadHalfK @returns {Shown} */
export function shown({ grid, rOhm, meterHalfOhm = 0, allowK = 0 }, spreadHalfK) {
  const tImpliedC = grid.tC(rOhm);
  const meterHalfK = meterHalfOhm / Math.abs(grid.slope(tImpliedC));
  const ownHalfK = Math.hypot(Math.hypot(meterHalfK, spreadHalfK), grid.lawK(tImpliedC));
  const tolK = grid.tolK(tImpliedC);
  return {
    tImpliedC, limitK: Math.max(tolK, allowK), limitKnown: grid.toleranceKnown || allowK > 0,
    ownUK: ownHalfK / Math.sqrt(3),
    soundUK: Math.hypot(ownHalfK, grid.toleranceKnown ? tolK : allowK) / Math.sqrt(3),
  };
}
