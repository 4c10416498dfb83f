// What else would read so: a shape for all, and what the board's pull-up alone reads. Mirrors
// kb/numbers/explanations.py.

import { PULL_UP_SHARE } from "./plug-volts.js";

/** @typedef {import("./instruments.js").Measured} Measured */
/**
 * The temperature that the reading would mean, its error where a temperature was measured, the
 * numbers special to its kind; causes: of "several", the likeliest first.
 * @typedef {{kind: string, tImpliedC: ?number, errorK: ?number, figures: Object<string, any>,
 *   causes: Explanation[]}} Explanation
 */

/** What the reading must be multiplied by, and the kind of slip.
 * @type {Array<[number, string]>} */
export const SLIPS = [
  [1000, "unit-slip"], [0.001, "unit-slip"], [10, "factor-ten"], [0.1, "factor-ten"],
];

/** @param {string} kind @param {Object<string, any>} [figures] @param {Partial<Explanation>} [more]
 * @returns {Explanation} */
export const explanation = (kind, figures = {}, more) =>
  ({ kind, tImpliedC: null, errorK: null, figures, causes: [], ...more });

/** So near to the pull-up a sensor in parallel is told from none by the meter's last digits alone:
 * whatever it would stand for is no finding.
 * @param {Measured} measured @param {?number} pullUpOhm
 * @returns {boolean} whether it may be the board's pull-up and nothing beside it */
export function isPullUp({ rOhm, meterHalfOhm }, pullUpOhm) {
  return pullUpOhm !== null
    && Math.abs(rOhm - pullUpOhm) <= meterHalfOhm + PULL_UP_SHARE * pullUpOhm;
}

/** @param {Measured} measured @param {?number} pullUpOhm
 * @returns {Explanation[]} the sensor is open and still plugged in */
export const boardAlone = (measured, pullUpOhm) =>
  (isPullUp(measured, pullUpOhm) ? [explanation("board-alone", { pullUpOhm })] : []);
