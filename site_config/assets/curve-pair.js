// Two curves side by side: how far apart, here and at most. Mirrors kb/numbers/curve_pair.py.
(function (Ohm) {
  "use strict";

  const PLACES = 401;

  /**
   * A board built for `one`, a sensor of `other` on it: how wrong would the board be?
   * @typedef {{atC: number, oneOhm: number, otherOhm: number, byK: number}} Apart
   *   byK: what the board would show less the truth; past an end of `one` along its last piece
   */

  /** @param {Ohm.Grid} one @param {{other: Ohm.Grid, tC: number}} told @returns {Apart}
   * @throws {Error} OutOfRange where either does not hold */
  Ohm.apart = function (one, { other, tC }) {
    const oneOhm = one.ohm(tC);
    const otherOhm = other.ohm(tC);
    return { atC: tC, oneOhm, otherOhm, byK: one.beyondC(otherOhm) - tC };
  };

  /** @param {Ohm.Grid} one @param {Ohm.Grid} other
   * @returns {?{lowC: number, highC: number}} the temperatures both hold for; null if none */
  Ohm.sharedRange = function (one, other) {
    const lowC = Math.max(one.lowC, other.lowC);
    const highC = Math.min(one.highC, other.highC);
    return lowC < highC ? { lowC, highC } : null;
  };

  /** @param {Ohm.Grid} one @param {{other: Ohm.Grid}} told
   * @returns {?Apart} where they differ most, in kelvin; null where they share no temperature */
  Ohm.mostApart = function (one, { other }) {
    const shared = Ohm.sharedRange(one, other);
    if (!shared) return null;
    const stepK = (shared.highC - shared.lowC) / (PLACES - 1);
    let most = null;
    for (let i = 0; i < PLACES; i++) {
      const tC = i === PLACES - 1 ? shared.highC : i * stepK + shared.lowC;
      const here = Ohm.apart(one, { other, tC });
      if (!most || Math.abs(here.byK) > Math.abs(most.byK)) most = here;
    }
    return most;
  };
})((globalThis.Ohm = globalThis.Ohm || {}));
