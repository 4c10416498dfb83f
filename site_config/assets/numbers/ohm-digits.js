// How many digits of ohms tell what a kelvin needs on a curve. Mirrors kb/numbers/ohm_digits.py.

import { digitsFor } from "./rounding.js";

/** @param {import("./grid.js").Grid} curve
 * @returns {number} digits of ohms that tell what a kelvin needs, all over it */
export function ohmDigits(curve) {
  const part = (curve.highC - curve.lowC) / 4;
  const ln = [0, 1, 2, 3, 4].map((at) => Math.log(curve.ohm(
    at === 4 ? curve.highC : curve.lowC + at * part)));
  const steps = [1, 2, 3, 4].map((at) => Math.abs(ln[at] - ln[at - 1]));
  return digitsFor(Math.min(...steps) / part);
}
