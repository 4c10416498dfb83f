// The sensors of one place share a temperature that nobody knows: which do not show it? Mirrors
// kb/numbers/place_at_rest.py.

/** So many sensors have drifted, before anything is read. Common practice, no source. */
export const DRIFTED_SHARE = 0.1;
/** So many temperatures were taken elsewhere, or too early. Common practice, no source. */
export const MISTAKEN_SHARE = 0.001;
/** How likely any temperature is, per K: all over 100 K alike. Common practice, no source. */
export const PER_K = 0.01;
/** More of one place are not taken to be out: that would be another temperature. */
const MOST_OUT = 3;

/**
 * @typedef {{tC: number, uK: number, outShare: number}} Witness
 * Some are out, the others show the place; centreC: null where there are none.
 * @typedef {{out: number[], logWeight: number, centreC: ?number, uK: number}} Explanation
 */

/** @param {Witness[]} witnesses @returns {Explanation[]} every one, fewest out first */
export function explanations(witnesses) {
  /** @type {Explanation[]} */
  const found = [];
  for (let size = 0; size <= Math.min(witnesses.length, MOST_OUT); size += 1) {
    subsets(witnesses.length, size).forEach((out) => found.push(explanation(witnesses, out)));
  }
  return found;
}

/** @param {number} count @param {number} size @param {number} [from]
 * @returns {number[][]} in rising order */
export function subsets(count, size, from = 0) {
  if (!size) return [[]];
  /** @type {number[][]} */
  const found = [];
  for (let i = from; i <= count - size; i += 1) {
    subsets(count, size - 1, i + 1).forEach((rest) => found.push([i, ...rest]));
  }
  return found;
}

/** @param {Witness[]} witnesses @param {number[]} out @returns {Explanation} */
function explanation(witnesses, out) {
  let logWeight = 0;
  out.forEach((i) => { logWeight += Math.log(witnesses[i].outShare * PER_K); });
  const sound = witnesses.filter((_, i) => !out.includes(i));
  if (!sound.length) return { out, logWeight, centreC: null, uK: 0 };
  // Counted from one of them, so that squares do not swallow what differs.
  const fromC = sound[0].tC;
  let [wSum, wtSum, wttSum] = [0, 0, 0];
  sound.forEach(({ tC, uK, outShare }) => {
    const [w, tK] = [uK ** -2, tC - fromC];
    wSum += w;
    wtSum += w * tK;
    wttSum += w * tK ** 2;
    logWeight += Math.log(1 - outShare) + Math.log(w / (2 * Math.PI)) / 2;
  });
  const scatter = Math.max(wttSum - wtSum ** 2 / wSum, 0);
  logWeight += Math.log(PER_K) + (Math.log((2 * Math.PI) / wSum) - scatter) / 2;
  return { out, logWeight, centreC: fromC + wtSum / wSum, uK: wSum ** -0.5 };
}

/** @param {number[]} logs @returns {number} ln of the sum of what these are ln of */
export function logSum(logs) {
  const highest = Math.max(...logs);
  return highest + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - highest), 0));
}
