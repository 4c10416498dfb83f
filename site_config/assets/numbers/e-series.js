// Standard resistor values: what there is in the drawer. Mirrors kb/numbers/e_series.py.

const E24 = [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68,
  75, 82, 91];

/** Series → its values from 1 up to 10. Source: IEC 60063:2015 (through third parties).
 * @type {Object<string, number[]>} */
const DECADES = {
  E12: E24.filter((_, i) => i % 2 === 0).map((one) => one / 10),
  E24: E24.map((one) => one / 10),
  // From E48 on a series follows 10^(i/n).
  E96: Array.from({ length: 96 }, (_, i) => Math.round(100 * Math.pow(10, i / 96)) / 100),
};

/**
 * @param {string} series E12, E24 or E96 @param {{lowOhm: number, highOhm: number}} span
 * @returns {number[]} the standard values in Ω, both ends included, rising
 * @throws {RangeError} for another series
 */
export function valuesOhm(series, { lowOhm, highOhm }) {
  const decade = DECADES[series];
  if (!decade) {
    throw new RangeError(
      `series '${series}' is not one of ${Object.keys(DECADES).join(", ")}`);
  }
  /** @type {number[]} */
  const found = [];
  // One decade more at either end: a power of ten may have a logarithm just beside the whole.
  const last = Math.floor(Math.log10(highOhm)) + 1;
  for (let power = Math.floor(Math.log10(lowOhm)) - 1; power <= last; power++) {
    // Through text, so that 4.7 k is 4700 and not 4700.000000000001.
    decade.forEach((one) => { found.push(Number(`${one}e${power}`)); });
  }
  return found.filter((one) => one >= lowOhm && one <= highOhm);
}
