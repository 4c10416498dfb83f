// Two curves side by side: how far apart, here and at most. Mirrors kb/numbers/curve_pair.py.

import { LIMITS } from "../catalog.js";

/** @typedef {import("./grid.js").Grid} Grid */

const PLACES = 401;

/**
 * A board built for `curve`, a sensor of `other` on it: how wrong would the board be?
 * @typedef {{atC: number, oneOhm: number, otherOhm: number, byK: number}} Apart
 *   byK: what the board would show less the truth; past an end of `curve` along its last piece
 */

/** @param {Grid} curve @param {{other: Grid, tC: number}} beside @returns {Apart}
 * @throws {OutOfRange} where either does not hold */
export function apart(curve, { other, tC }) {
  const oneOhm = curve.ohm(tC);
  const otherOhm = other.ohm(tC);
  return { atC: tC, oneOhm, otherOhm, byK: curve.beyondC(otherOhm) - tC };
}

/** @param {Grid} curve @param {Grid} other
 * @returns {?{lowC: number, highC: number}} the temperatures both hold for; null if none */
export function sharedRange(curve, other) {
  const lowC = Math.max(curve.lowC, other.lowC);
  const highC = Math.min(curve.highC, other.highC);
  return lowC < highC ? { lowC, highC } : null;
}

/** @param {Grid} curve @param {{other: Grid}} beside
 * @returns {?Apart} where they differ most, in kelvin; null where they share no temperature */
export function mostApart(curve, { other }) {
  const shared = sharedRange(curve, other);
  if (!shared) return null;
  const stepK = (shared.highC - shared.lowC) / (PLACES - 1);
  const places = Array.from({ length: PLACES }, (_, i) =>
    apart(curve, { other, tC: i === PLACES - 1 ? shared.highC : i * stepK + shared.lowC }));
  const mostK = Math.max(...places.map(({ byK }) => Math.abs(byK)));
  return places.find(({ byK }) => Math.abs(byK) >= mostK - LIMITS.alike_k) || null;
}
