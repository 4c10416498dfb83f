// A motor's PTC loop: limits around its response temperature. Mirrors kb/numbers/switching_ptc.py.

/** K over the response temperature, at most?, Ω of one element (DIN 44081/44082). */
const ELEMENT_LIMITS = [
  [-20, true, 250], [-5, true, 550], [5, false, 1330], [15, false, 4000],
];
/** Below this the standard promises nothing. */
export const LOWEST_C = -20;

/** One element, or several in series; tripC: rated response temperature.
 * @typedef {{tripC: number, inSeries: number}} Loop */

/** @param {Loop} loop @param {number} tC all elements at it
 * @returns {number[]} least and most Ω of the whole loop; 0 and Infinity for no limit
 * @throws {Error} Unreadable below −20 °C */
export function loopLimitsOhm({ tripC, inSeries }, tC) {
  if (!(tC >= LOWEST_C)) {
    const error = new Error(`${Number(tC.toPrecision(6))} °C is below −20 °C, where DIN 44081 ` +
      "sets no limit; warm the motor first");
    error.name = "Unreadable";
    throw error;
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
