// What to believe after a reading. Mirrors kb/numbers/believed.py.

import { belowShare, insideShare, seenHalvesK } from "./error-bound.js";

const SIZES = 24;

/** @param {number} errorK
 * @param {{limitK: number, halfWidthsK: number[], before: number, largestK: number}} of
 * @returns {?number} how likely the sensor is at fault after the reading */
export function faultShare(errorK, { limitK, halfWidthsK, before, largestK }) {
  const halvesK = seenHalvesK(halfWidthsK);
  if (!(limitK > 0 && limitK < largestK) || !halvesK.length) return null;
  const sound = insideShare(errorK, limitK, halvesK) / (2 * limitK);
  const grows = (largestK / limitK) ** (1 / SIZES);
  let fault = 0;
  let nearK = limitK;
  for (let i = 0; i < SIZES; i++) {
    const farK = nearK * grows;
    [errorK, -errorK].forEach((offK) => {
      fault += (belowShare(offK - nearK, halvesK) - belowShare(offK - farK, halvesK))
        / (farK - nearK) / (2 * SIZES);
    });
    nearK = farK;
  }
  const every = before * fault + (1 - before) * sound;
  return every > 0 ? (before * fault) / every : null;
}
