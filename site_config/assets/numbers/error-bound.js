// How far may it be off at most? Mirrors kb/numbers/error_bound.py.

/** How sure the bound is. */
export const SURE = 0.95;
/** A half-width below this share of all together moves the bound by less than itself. */
const NEGLIGIBLE = 1e-3;
const NOTHING_K = 1e-9;
const HALVINGS = 60;

/** @param {number[]} values */
const sumOf = (values) => values.reduce((sum, value) => sum + value, 0);

/** @param {number} errorK as read
 * @param {number[]} halfWidthsK each equally likely anywhere within ± its half-width
 * @returns {number} what the true error does not exceed, either way, with SURE */
export function atMostK(errorK, halfWidthsK) {
  const everyK = sumOf(halfWidthsK);
  const halvesK = halfWidthsK.filter((halfK) => halfK > Math.max(NEGLIGIBLE * everyK, NOTHING_K));
  if (!halvesK.length) return Math.abs(errorK);
  let lowK = 0;
  let highK = Math.abs(errorK) + everyK;
  for (let i = 0; i < HALVINGS; i++) {
    const middleK = (lowK + highK) / 2;
    const sure = below(errorK + middleK, halvesK) - below(errorK - middleK, halvesK);
    if (sure < SURE) lowK = middleK; else highK = middleK;
  }
  return highK;
}

/** @param {number} xK @param {number[]} halvesK
 * @returns {number} how likely the sum of rectangles is below it */
function below(xK, halvesK) {
  const reachK = sumOf(halvesK);
  if (xK <= -reachK) return 0;
  if (xK >= reachK) return 1;
  const count = halvesK.length;
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
