// What windings were held against, what was counted, and what follows. Mirrors
// kb/answers/winding_notes.py.

import { LIMITS } from "../catalog.js";
import { PHASE_TIMES, isTriangle } from "../numbers/winding-triangle.js";
import { statement } from "./statement.js";

/** @typedef {import("./winding-reading.js").WindingFacts} WindingFacts */

/** @param {WindingFacts} part @param {{balanced: boolean, tC: ?number, waits: boolean}} how
 *   waits: one of them was held against nothing yet
 * @returns {Array<import("./statement.js").Statement>} */
export function windingNotes(part, { balanced, tC, waits }) {
  const { balanceShare, toleranceShare, constant } = part;
  const limits = { balance_share: balanceShare, tolerance_share: toleranceShare };
  /** @type {Array<import("./statement.js").Statement>} */
  const notes = [];
  if (balanceShare !== null && toleranceShare !== null) {
    notes.push(statement("winding.allowed-both", limits));
  } else if (balanceShare !== null) {
    notes.push(statement("winding.allowed-mean", limits));
  } else if (toleranceShare !== null) {
    notes.push(statement("winding.allowed-entry", limits));
  }
  if (balanced) notes.push(statement("winding.beside"));
  if (balanced && balanceShare !== null && isTriangle(Object.keys(part.pairs))) {
    notes.push(statement("winding.phase",
      { balance_share: balanceShare, phase_share: PHASE_TIMES * balanceShare }));
  }
  if (tC === null) {
    return waits ? [...notes, statement("winding.without-temperature")] : notes;
  }
  return [...notes, statement(`winding.warmth-${part.metal.replace(/ /g, "-")}`, {
    t_c: tC, constant, per_k_share: 1 / (constant + tC), half_k: LIMITS.winding_half_k,
  })];
}

/** @param {WindingFacts} part
 * @param {{state: string, better: boolean, unread: string[]}} answer
 * @returns {Array<import("./statement.js").Statement>} after the better meters */
export function windingAdvice(part, { state, better, unread }) {
  /** @type {Array<import("./statement.js").Statement>} */
  const advice = [];
  if (state === "undecided" && !better) advice.push(statement("winding.no-better"));
  if (unread.length) advice.push(statement("winding.unread", { pairs: unread }));
  if (part.wound && state === "within") advice.push(statement("winding.proves-no-motor"));
  if (part.insulated) advice.push(statement("winding.earth"));
  return advice;
}
