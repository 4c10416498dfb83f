// How far may it be off? Mirrors kb/numbers/error_bound.py.

/** How sure a bound is said to be. */
export const SURE = 0.95;
/** What it really covers. */
const COVERAGE = 0.9545;
const SMALL = 0.02;
const NOTHING_K = 1e-9;
const HALVINGS = 50;

/** @param {number[]} values */
const sumOf = (values) => values.reduce((sum, value) => sum + value, 0);

/** @param {number[]} halfWidthsK each equally likely anywhere within ± its half-width
 * @returns {number} U in K: the true error lies within ± U of the one read */
export function coverageK(halfWidthsK) {
  const halvesK = seenHalvesK(halfWidthsK);
  let lowK = 0;
  let highK = sumOf(halvesK);
  if (halvesK.length < 2) return COVERAGE * highK;
  for (let i = 0; i < HALVINGS; i++) {
    const middleK = (lowK + highK) / 2;
    if (belowShare(-middleK, halvesK) > (1 - COVERAGE) / 2) lowK = middleK; else highK = middleK;
  }
  return highK;
}

/** @param {number} errorK @param {number} limitK @param {number[]} halvesK from seenHalvesK
 * @returns {number} how likely the true error is within ± limitK */
export const insideShare = (errorK, limitK, halvesK) => (limitK <= 0 ? 0
  : Math.max(belowShare(errorK + limitK, halvesK) - belowShare(errorK - limitK, halvesK), 0));

/** @param {number[]} halfWidthsK
 * @returns {number[]} as belowShare takes them: the small ones as one of their variance */
export function seenHalvesK(halfWidthsK) {
  const everyK = sumOf(halfWidthsK);
  const leastK = Math.max(SMALL * everyK, NOTHING_K);
  const smallK = Math.sqrt(sumOf(halfWidthsK.map((halfK) => (halfK > leastK ? 0 : halfK * halfK))));
  return halfWidthsK.filter((halfK) => halfK > leastK)
    .concat(smallK > Math.max(NOTHING_K, everyK * 1e-3) ? [smallK] : []);
}

/** @param {number} xK @param {number[]} halvesK from seenHalvesK
 * @returns {number} how likely the sum of rectangles is below it */
export function belowShare(xK, halvesK) {
  if (xK > 0) return 1 - belowShare(-xK, halvesK);
  const count = halvesK.length;
  if (xK <= -sumOf(halvesK)) return xK < 0 || count ? 0 : 0.5;
  let total = 0;
  for (let minuses = 0; minuses < 2 ** count; minuses++) {
    let insideK = xK;
    let sign = 1;
    halvesK.forEach((halfK, i) => {
      const minus = (minuses >> i) & 1;
      insideK += minus ? -halfK : halfK;
      if (minus) sign = -sign;
    });
    if (insideK > 0) total += sign * insideK ** count;
  }
  return total / halvesK.reduce((product, halfK, i) => product * 2 * halfK * (i + 1), 1);
}
