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

/** The first and the last are the ends themselves.
 * @param {Grid} curve @param {{other: Grid, count: number}} beside
 * @returns {?number[]} so many °C, evenly over those both hold for; null where there are none */
export function sharedPlacesC(curve, { other, count }) {
  const lowC = Math.max(curve.lowC, other.lowC);
  const highC = Math.min(curve.highC, other.highC);
  if (!(lowC < highC)) return null;
  const stepK = (highC - lowC) / (count - 1);
  return Array.from({ length: count }, (_, i) => (i === count - 1 ? highC : i * stepK + lowC));
}

/** @param {Grid} curve @param {{other: Grid}} beside
 * @returns {?Apart} where they differ most, in kelvin; null where they share no temperature */
export function mostApart(curve, { other }) {
  const sharedC = sharedPlacesC(curve, { other, count: PLACES });
  if (!sharedC) return null;
  const places = sharedC.map((tC) => apart(curve, { other, tC }));
  const mostK = Math.max(...places.map(({ byK }) => Math.abs(byK)));
  return places.find(({ byK }) => Math.abs(byK) >= mostK - LIMITS.alike_k) || null;
}
