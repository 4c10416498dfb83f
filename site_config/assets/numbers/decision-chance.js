// Would another reading decide? Mirrors kb/numbers/decision_chance.py.

import { belowShare, coverageK, seenHalvesK } from "./error-bound.js";

/** @param {number} errorK as read now @param {number} limitK
 * @param {{leftK: number[], drawnK: number[]}} then what the other reading leaves open, and all in
 *   which the two differ: half-widths
 * @returns {number} how likely it decides */
export function decisionChance(errorK, limitK, { leftK, drawnK }) {
  const uncertaintyK = coverageK(leftK);
  const halvesK = seenHalvesK(drawnK);
  /** @param {number} reachK */
  const within = (reachK) => {
    if (reachK < 0) return 0;
    if (!halvesK.length) return Math.abs(errorK) <= reachK ? 1 : 0;
    return belowShare(reachK - errorK, halvesK) - belowShare(-reachK - errorK, halvesK);
  };
  return within(limitK - uncertaintyK) + 1 - within(limitK + uncertaintyK);
}
