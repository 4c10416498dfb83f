// Standard resistor values: what there is in the drawer. Mirrors kb/numbers/e_series.py.

import { SERIES } from "../catalog.js";

/**
 * @param {string} series E12, E24 or E96 @param {{lowOhm: number, highOhm: number}} span
 * @returns {number[]} the standard values in Ω, both ends included, rising
 * @throws {RangeError} for another series
 */
export function valuesOhm(series, { lowOhm, highOhm }) {
  if (!SERIES[series]) {
    throw new RangeError(
      `series '${series}' is not one of ${Object.keys(SERIES).join(", ")}`);
  }
  /** @type {number[]} */
  const found = [];
  // One decade more at either end: a power of ten may have a logarithm just beside the whole.
  const last = Math.floor(Math.log10(highOhm)) + 1;
  for (let power = Math.floor(Math.log10(lowOhm)) - 1; power <= last; power++) {
    // Through text, so that 4.7 k is 4700 and not 4700.000000000001.
    SERIES[series].values.forEach((value) => { found.push(Number(`${value}e${power}`)); });
  }
  return found.filter((value) => value >= lowOhm && value <= highOhm);
}
