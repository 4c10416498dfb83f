// Two curves side by side: how far apart, here and at most. Mirrors kb/numbers/curve_pair.py.

import { LIMITS } from "../catalog.js";

/** @typedef {import("./grid.js").Grid} Grid */

const PLACES = 401;

/**
 * A board built for `one`, a sensor of `other` on it: how wrong would the board be?
 * @typedef {{atC: number, oneOhm: number, otherOhm: number, byK: number}} Apart
 *   byK: what the board would show less the truth; past an end of `one` along its last piece
 */

/** @param {Grid} one @param {{other: Grid, tC: number}} told @returns {Apart}
 * @throws {OutOfRange} where either does not hold */
export function apart(one, { other, tC }) {
  const oneOhm = one.ohm(tC);
  const otherOhm = other.ohm(tC);
  return { atC: tC, oneOhm, otherOhm, byK: one.beyondC(otherOhm) - tC };
}

/** @param {Grid} one @param {Grid} other
 * @returns {?{lowC: number, highC: number}} the temperatures both hold for; null if none */
export function sharedRange(one, other) {
  const lowC = Math.max(one.lowC, other.lowC);
  const highC = Math.min(one.highC, other.highC);
  return lowC < highC ? { lowC, highC } : null;
}

/** @param {Grid} one @param {{other: Grid}} told
 * @returns {?Apart} where they differ most, in kelvin; null where they share no temperature */
export function mostApart(one, { other }) {
  const shared = sharedRange(one, other);
  if (!shared) return null;
  const stepK = (shared.highC - shared.lowC) / (PLACES - 1);
  const places = Array.from({ length: PLACES }, (_, i) =>
    apart(one, { other, tC: i === PLACES - 1 ? shared.highC : i * stepK + shared.lowC }));
  const mostK = Math.max(...places.map(({ byK }) => Math.abs(byK)));
  return places.find(({ byK }) => Math.abs(byK) >= mostK - LIMITS.alike_k) || null;
}
