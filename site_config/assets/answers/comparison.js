// Two curves side by side at a temperature: how wrong is a board that gets the other sensor? Mirrors
// kb/answers/comparison.py.

import { LIMITS } from "../catalog.js";
import { apart, mostApart } from "../numbers/curve-pair.js";
import { OutOfRange } from "../numbers/out-of-range.js";
import { ohmDigits } from "../numbers/ohm-digits.js";
import { Refusal, statement } from "./statement.js";
import { typedTemperature } from "./typed.js";

/**
 * @typedef {import("../numbers/grid.js").Grid} Grid
 * @typedef {import("../numbers/curve-pair.js").Apart} Apart
 * @typedef {import("./statement.js").Statement} Statement
 * difference: in ohms; board: what one for the first curve shows on the other; furthest: where they
 * differ most.
 * @typedef {{unit: string, digits: number, here: Apart, most: Apart, difference: Statement,
 *   board: Statement, furthest: Statement}} Comparison
 */

/** @param {string} text a temperature @param {{curve: Grid, other: Grid, unit?: string}} curves
 * @returns {Comparison}
 * @throws {Refusal} they share no temperature; it is missing, unreadable, or not shared */
export function compareCurves(text, { curve, other, unit = "C" }) {
  const most = mostApart(curve, { other });
  if (!most) throw new Refusal(statement("pair.no-shared"), { field: "other" });
  if (!text.trim()) {
    throw new Refusal(statement("curve.temperature-missing"), { field: "at", missing: true });
  }
  const at = typedTemperature(text, { field: "at", unit });
  const here = shared(curve, other, at.tC);
  return {
    unit: at.unit, digits: Math.max(ohmDigits(curve), ohmDigits(other)), here, most,
    difference: difference(here), board: board(here),
    furthest: statement("pair.furthest", {
      by_k: Math.abs(most.byK), at_c: most.atC, one_ohm: most.oneOhm, other_ohm: most.otherOhm,
    }),
  };
}

/** @param {Grid} curve @param {Grid} other @param {number} tC */
function shared(curve, other, tC) {
  try {
    return apart(curve, { other, tC });
  } catch (error) {
    if (!(error instanceof OutOfRange)) throw error;
    throw new Refusal(statement("pair.beyond", {
      t_c: tC, low_c: Math.max(curve.lowC, other.lowC), high_c: Math.min(curve.highC, other.highC),
    }), { field: "at" });
  }
}

/** @param {Apart} here */
function difference({ byK, oneOhm, otherOhm }) {
  if (Math.abs(byK) <= LIMITS.alike_k) return statement("pair.no-difference");
  return statement(`pair.difference-${otherOhm > oneOhm ? "higher" : "lower"}`,
    { difference_ohm: Math.abs(otherOhm - oneOhm) });
}

/** @param {Apart} here */
function board({ byK }) {
  if (Math.abs(byK) <= LIMITS.alike_k) return statement("pair.board-right");
  return statement(`pair.board-${byK > 0 ? "hot" : "cold"}`, { by_k: Math.abs(byK) });
}
