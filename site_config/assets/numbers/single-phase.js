// Two windings on three leads: which is the common one, do the readings add up? Mirrors
// kb/numbers/single_phase.py.

import { sharedLead } from "./winding-triangle.js";

/** Readings taken one after another may be so far off their sum, beside the meter's error. */
const SUM_SHARE = 0.02;

/** The leads, and whether the readings tell them; the two smaller together less the greatest.
 * @typedef {{common: string, run: string, start: string, commonKnown: boolean, runKnown: boolean,
 *   sumOffOhm: number, sumUncertaintyOhm: number, addsUp: boolean}} ThreeLeads */

/** R(C-R) + R(C-S) = R(R-S): the common lead is the one that the greatest leaves out.
 * @param {Object<string, number>} readingsOhm the three pairs of three leads
 * @param {{halfWidthsOhm: Object<string, number>, besideHalvesOhm: Object<string, number>}} how
 *   how far each may be off by itself, and off the others
 * @returns {ThreeLeads} */
export function threeLeads(readingsOhm, { halfWidthsOhm, besideHalvesOhm }) {
  const pairs = Object.keys(readingsOhm);
  const [small, middle, great] = [...pairs].sort((a, b) => readingsOhm[a] - readingsOhm[b]);
  const [runOhm, startOhm, bothOhm] = [small, middle, great].map((pair) => readingsOhm[pair]);
  const sumOffOhm = runOhm + startOhm - bothOhm;
  const sumUncertaintyOhm = expanded(pairs.map((pair) => halfWidthsOhm[pair]));
  const addsUp = Math.abs(sumOffOhm) <= sumUncertaintyOhm + SUM_SHARE * bothOhm;
  const common = sharedLead(small, middle);
  const least = expanded([besideHalvesOhm[middle], besideHalvesOhm[great]]);
  const apart = expanded([besideHalvesOhm[small], besideHalvesOhm[middle]]);
  return {
    common, run: otherEnd(small, common), start: otherEnd(middle, common),
    commonKnown: addsUp && bothOhm - startOhm > least, runKnown: startOhm - runOhm > apart,
    sumOffOhm, sumUncertaintyOhm, addsUp,
  };
}

/** @param {string} pair @param {string} lead @returns {string} */
export const otherEnd = (pair, lead) => pair.split("-").filter((end) => end !== lead)[0];

/** @param {number[]} halvesOhm */
const expanded = (halvesOhm) =>
  2 * Math.sqrt(halvesOhm.reduce((sum, halfOhm) => sum + halfOhm ** 2, 0) / 3);
