// What insulation does while the voltage stands; ten minutes to one. Mirrors
// kb/numbers/insulation_trend.py.

import { LIMITS } from "../catalog.js";

/** A change over the minute that is smaller is none. */
const STEADY_SHARE = 0.1;

/** @param {number} earlyOhm after 15 or 30 seconds @param {number} minuteOhm Infinity over range
 * @returns {string} rising, flat, falling; nothing where both are over range */
export function trendOf(earlyOhm, minuteOhm) {
  if (earlyOhm === Infinity && minuteOhm === Infinity) return "";
  if (minuteOhm > (1 + STEADY_SHARE) * earlyOhm) return "rising";
  return minuteOhm < (1 - STEADY_SHARE) * earlyOhm ? "falling" : "flat";
}

/** Of a form-wound winding (IEEE 43-2013, memory).
 * @param {number} minuteOhm @param {{lateOhm: number, minuteAt40Ohm: number}} how
 * @returns {string} above where it tells nothing, falling, low, good */
export function ratioState(minuteOhm, { lateOhm, minuteAt40Ohm }) {
  if (minuteAt40Ohm > LIMITS.ratio_below_ohm) return "above";
  if (lateOhm < minuteOhm) return "falling";
  return lateOhm < LIMITS.least_ratio * minuteOhm ? "low" : "good";
}
