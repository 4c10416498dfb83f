// What windings were held against, what was counted, and what follows. Mirrors
// kb/answers/winding_notes.py.

import { LIMITS } from "../catalog.js";
import { PHASE_TIMES, isTriangle } from "../numbers/winding-triangle.js";
import { statement } from "./statement.js";
import { hasTwoWindings } from "./winding-unnamed.js";

/** A balance limit below this is what a contact can make up or hide. */
const CONTACT_OHM = 0.2;

/** @typedef {import("./statement.js").Statement} Statement */
/** @typedef {import("./winding-reading.js").WindingFacts} WindingFacts */
/** @typedef {import("./winding-headline.js").Pairs} Pairs */

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
  if (balanced && balanceShare !== null && isTriangle(Object.keys(part.pairs))
    && !hasTwoWindings(part)) {
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

/** @param {Object<string, number>} windings Ω of each by itself
 * @param {Object<string, number>} uOhm of those known so well @param {string} connection
 * @returns {Statement[]} */
export function solvedNote(windings, uOhm, connection) {
  const names = Object.keys(windings).sort();
  if (!names.length || names.some((name) => windings[name] === Infinity)) return [];
  const each = names.map((name) => {
    const figures = { winding: name, r_ohm: windings[name] };
    return name in uOhm
      ? statement("winding.solved-one-within", { ...figures, u_share: uOhm[name] / windings[name] })
      : statement("winding.solved-one", figures);
  });
  return [statement(`winding.solved-${connection}`, { windings: each })];
}

/** @param {WindingFacts} part @param {Pairs} pairs @param {Array<{meanAt20Ohm: ?number}>} balances
 * @returns {Statement[]} what repeats showed of the contact, and that it counts; or that nobody knows */
export function contactNotes({ balanceShare }, pairs, balances) {
  const again = Object.keys(pairs).filter((pair) => pairs[pair].repeats > 1);
  if (!again.length) {
    const close = balances.some(({ meanAt20Ohm }) =>
      (meanAt20Ohm || Infinity) * (balanceShare || Infinity) < CONTACT_OHM);
    return close ? [statement("winding.contact-once")] : [];
  }
  const spreadOhm = Math.max(...again.map((pair) => pairs[pair].spreadOhm));
  return [statement("winding.contact", { pairs: again, spread_ohm: spreadOhm })];
}

/** @param {WindingFacts} part @param {Pairs} pairs
 * @param {?import("../numbers/single-phase.js").ThreeLeads} found
 * @returns {Statement[]} what is wrong with the readings themselves: a bad contact, a path beside */
export function contactFirst(part, pairs, found) {
  const names = Object.keys(pairs);
  const limit = part.balanceShare === null ? part.toleranceShare : part.balanceShare;
  const wide = limit === null ? []
    : names.filter((pair) => pairs[pair].spreadOhm > limit * pairs[pair].rOhm);
  const first = wide.length
    ? [statement("winding.contact-wide", { pairs: wide, limit_share: limit })] : [];
  if (!hasTwoWindings(part) || !found || found.addsUp) return first;
  const great = names.reduce((a, b) => (pairs[b].rOhm > pairs[a].rOhm ? b : a));
  const less = names.filter((pair) => pair !== great);
  return [...first, statement(`winding.sum-${found.sumOffOhm > 0 ? "less" : "more"}`, {
    less, pair: great, r_ohm: pairs[great].rOhm,
    sum_ohm: less.reduce((sum, pair) => sum + pairs[pair].rOhm, 0),
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
