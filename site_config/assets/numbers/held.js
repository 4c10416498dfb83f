// How far a reading is off a curve, and how likely a sound part is so far off. Mirrors
// kb/numbers/held.py.

import { coverageK } from "./error-bound.js";
import { expandedK, rateKPerOhm, rectangular } from "./verdict.js";

/** Nothing is known better than so: common practice, no source. */
const LEAST_K = 0.25;

/** spreadK: of a sound part's error, a standard deviation; density: how likely that error, per K.
 * @typedef {{tImpliedC: number, errorK: number, spreadK: number, fits: boolean, density: number}} Held */

/**
 * @param {import("./grid.js").Grid} grid @param {import("./instruments.js").Measured} measured
 * @param {number} allowK @param {number} [besidesK] what else leaves it open
 * @returns {?Held} null where no part on it stands for that at all
 */
export function held(grid, measured, allowK, besidesK = 0) {
  const { tC, rOhm } = measured;
  if (!grid.holds(tC) || rOhm <= 0) return null;
  const limitK = Math.max(grid.tolK(tC), allowK);
  const tImpliedC = grid.beyondC(rOhm);
  const insideC = Math.min(Math.max(tImpliedC, grid.lowC), grid.highC);
  // A meter that is coarse there fits anything: past the ends by more than the limit is off it.
  if (Math.abs(tImpliedC - insideC) > limitK) return null;
  const halvesK = [
    measured.meterHalfOhm * rateKPerOhm(grid, rOhm, insideC), measured.thermometerHalfK,
    measured.placementHalfK, measured.lawHalfK === null ? grid.lawK(tC) : measured.lawHalfK,
  ];
  const expanded = expandedK(...halvesK.map(rectangular));
  const errorK = tImpliedC - tC;
  const overK = Math.abs(errorK) - limitK;
  const spreadK = Math.max(LEAST_K,
    Math.sqrt((expanded * expanded + limitK * limitK) / 4 + besidesK * besidesK));
  const size = errorK / spreadK;
  return {
    tImpliedC, errorK, spreadK,
    // 2u is never below what a verdict counts, and sooner worked out.
    fits: overK <= 0 || (overK <= expanded && overK <= coverageK(halvesK)),
    density: Math.exp((-size * size) / 2) / (spreadK * Math.sqrt(2 * Math.PI)),
  };
}
