// Which winding, lead or joint is bad, as far as the way they are joined lets it be said. Mirrors
// kb/answers/winding_faults.py.

import { deltaWindings, isBroken, starWindings } from "../numbers/winding-phases.js";
import { isTriangle, pairApart, sharedLead } from "../numbers/winding-triangle.js";
import { statement } from "./statement.js";
import { hasTwoWindings } from "./winding-unnamed.js";

/**
 * @typedef {import("./statement.js").Statement} Statement
 * @typedef {import("./winding-reading.js").WindingFacts} WindingFacts
 * @typedef {import("./winding-headline.js").Pairs} Pairs
 * @typedef {import("./winding-headline.js").Balance} Balance
 * @typedef {Object<string, number>} Ohms Ω by pair of leads, or by winding
 */

/** Below this a difference of shares is arithmetic. */
const SAME_SHARE = 1e-9;

/** @param {WindingFacts} part @param {{pairs: Pairs, balances: Balance[]}} read
 * @returns {Statement[]} one for each pair off the mean that is to be named */
export function offMean(part, { pairs, balances }) {
  /** @type {Statement[]} */
  const faults = [];
  balances.filter((balance) => balance.state === "outside").forEach(({ windings }) => {
    /** @type {Ohms} */
    const ohms = {};
    Object.keys(windings).forEach((pair) => { ohms[pair] = windings[pair].rOhm; });
    const apart = pairApart(ohms);
    const where = apart && placeOf(part, { apart, ohms, sound: othersSound(apart, ohms, pairs) });
    (apart && where ? [apart.pair] : furthest(windings)).forEach((pair) => {
      faults.push(statement(where ? where.id : "winding.off-mean", {
        pair, off_share: windings[pair].offShare, allowed_share: part.balanceShare,
        ...(where ? where.figures : {}),
      }));
    });
  });
  return faults;
}

/** In a star the pair apart is the sound one: the winding is that of the lead which the two others
 * share. In a delta it is its own, but a bad joint of a lead outside raises two pairs there too.
 * @param {WindingFacts} part
 * @param {{apart: import("../numbers/winding-triangle.js").PairApart, ohms: Ohms, sound: boolean}} how
 *   sound: the two others read what their entry gives
 * @returns {?Statement} its id and its figures; nothing for that pair itself */
function placeOf(part, { apart, ohms, sound }) {
  const windings = windingsSolved(part, ohms);
  const { lead } = apart;
  if (!Object.keys(windings).length) {
    const way = apart.high ? "high" : "low";
    return sound ? null : statement(`winding.off-mean-${way}`, { lead });
  }
  const star = part.connection === "star";
  const winding = star ? lead : apart.pair;
  if (!star && isBroken(windings, winding)) {
    return statement("winding.off-mean-open-delta", { winding });
  }
  const others = Object.keys(windings).filter((name) => name !== winding);
  const othersOhm = others.reduce((sum, name) => sum + windings[name], 0) / others.length;
  const way = star ? `${apart.high ? "high" : "low"}-star`
    : `${apart.high ? "high" : sound ? "short" : "low"}-delta`;
  return statement(`winding.off-mean-${way}`,
    { lead, winding, own_ohm: windings[winding], others_ohm: othersOhm });
}

/** @param {import("../numbers/winding-triangle.js").PairApart} apart @param {Ohms} ohms
 * @param {Pairs} pairs @returns {boolean} the two others read what their entry gives */
const othersSound = (apart, ohms, pairs) =>
  Object.keys(ohms).every((pair) => pair === apart.pair || pairs[pair].state === "within");

/** One bad winding moves the mean under all of them, so the furthest is the bad one; of two that
 * are as far, as any two alone are, nobody can tell which.
 * @param {Balance["windings"]} windings */
function furthest(windings) {
  const off = (/** @type {string} */ pair) => Math.abs(Number(windings[pair].offShare));
  const most = Math.max(...Object.keys(windings).map(off));
  return Object.keys(windings).filter((pair) => off(pair) >= most - SAME_SHARE);
}

/** @param {WindingFacts} part @param {Pairs} pairs
 * @returns {?Statement} the lead that two open pairs share; nothing where that says no more */
export function openLead(part, pairs) {
  const named = Object.keys(pairs).filter((pair) => pairs[pair].state === "open");
  const figure = Object.keys(pairs).some((pair) => pairs[pair].rOhm < Infinity);
  const way = hasTwoWindings(part) ? "single" : part.connection;
  const lead = named.length === 2 ? sharedLead(named[0], named[1]) : "";
  const says = way === "single" || (isTriangle(Object.keys(part.pairs)) && figure);
  return lead && says ? statement(`winding.open-lead-${way}`, { pairs: named, lead }) : null;
}

/** @param {WindingFacts} part @param {Ohms} ohms
 * @returns {Ohms} each winding by itself, where the entry says how they are joined */
export function windingsSolved(part, ohms) {
  if (part.connection === "star") return starWindings(ohms);
  return part.connection === "delta" ? deltaWindings(ohms) : {};
}
