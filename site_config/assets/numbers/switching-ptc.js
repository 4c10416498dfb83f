// A motor's PTC loop: limits around its response temperature. Mirrors kb/numbers/switching_ptc.py.

/** So far below its response temperature a loop still reads as a cold one does, in K. */
export const COLD_K = 20;

/** K over the response temperature, at most?, Ω of one element (DIN 44081/44082).
 * @type {Array<[number, boolean, number]>} */
const ELEMENT_LIMITS = [
  [-COLD_K, true, 250], [-5, true, 550], [5, false, 1330], [15, false, 4000],
];
/** Below this a loop is shorted, however many elements it has, in Ω. */
export const SHORTED_OHM = 20;
/** Less than this one element hardly ever reads, in Ω. */
const USUAL_LEAST_OHM = 20;
/** Below this the standard promises nothing. */
export const LOWEST_C = -20;

/** One element, or several in series; tripC: rated response temperature.
 * @typedef {{tripC: number, inSeries: number}} Loop */

/** @param {Loop} loop @returns {number} less than this in Ω the whole loop hardly ever reads */
export const usualLeastOhm = ({ inSeries }) => inSeries * USUAL_LEAST_OHM;

/** @param {Loop} loop @param {number} tC all elements at it
 * @returns {number[]} least and most Ω of the whole loop; 0 and Infinity for no limit
 * @throws {RangeError} below −20 °C */
export function loopLimitsOhm({ tripC, inSeries }, tC) {
  if (!(tC >= LOWEST_C)) {
    throw new RangeError(`DIN 44081 sets no limit at ${tC} °C`);
  }
  // A limit holds at its very temperature, whatever the last binary digit says.
  const overK = Number((tC - tripC).toFixed(9));
  const leasts = ELEMENT_LIMITS.filter(([atK, atMost]) => !atMost && overK >= atK);
  const mosts = ELEMENT_LIMITS.filter(([atK, atMost]) => atMost && overK <= atK);
  return [
    inSeries * Math.max(0, ...leasts.map(([, , rOhm]) => rOhm)),
    inSeries * Math.min(Infinity, ...mosts.map(([, , rOhm]) => rOhm)),
  ];
}
