// Readings of the same thing, repeated: what the contact does. Mirrors kb/numbers/repeated.py.

/** t for 95.45 % and 1 to 10 degrees of freedom; the last stands for more (JCGM 100, Table G.2). */
const T_FACTORS = [13.97, 4.53, 3.31, 2.87, 2.65, 2.52, 2.43, 2.37, 2.32, 2.28];

/** s² pooled over all that was repeated; of a mean of n, u = (t/2) s/√n, so that 2u covers what t does.
 * @param {Object<string, number[]>} readingsOhm @returns {Object<string, number>} u in Ω of each mean */
export function contactUOhm(readingsOhm) {
  const names = Object.keys(readingsOhm);
  let freedom = 0;
  let squares = 0;
  names.forEach((name) => {
    const mean = meanOhm(readingsOhm[name]);
    freedom += readingsOhm[name].length - 1;
    readingsOhm[name].forEach((rOhm) => { squares += (rOhm - mean) ** 2; });
  });
  const factor = T_FACTORS[Math.min(freedom, T_FACTORS.length) - 1] / 2;
  const spreadOhm = freedom ? Math.sqrt(squares / freedom) * factor : 0;
  /** @type {Object<string, number>} */
  const uOhm = {};
  names.forEach((name) => { uOhm[name] = spreadOhm / Math.sqrt(readingsOhm[name].length); });
  return uOhm;
}

/** @param {number[]} values @returns {number} of equal ones exactly what they are */
export const meanOhm = (values) =>
  values[0] + values.reduce((sum, value) => sum + (value - values[0]), 0) / values.length;
