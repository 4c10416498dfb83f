// Three leads whose names nobody knows: what their three readings make of them. Mirrors
// kb/answers/winding_unnamed.py.

import { meterBesideOhm, meterHalfOhm, meterSpanOhm } from "../numbers/instruments.js";
import { otherEnd, threeLeads } from "../numbers/single-phase.js";
import { isTriangle, sharedLead } from "../numbers/winding-triangle.js";
import { Refusal, statement } from "./statement.js";

/** @typedef {import("./winding-reading.js").WindingFacts} WindingFacts */
/** @typedef {import("./winding-reading.js").Repeated} Repeated */
/** @typedef {import("../numbers/single-phase.js").ThreeLeads} ThreeLeads */

/** The pairs of three leads that nobody knows the names of. */
export const UNNAMED = ["1-2", "2-3", "1-3"];

/** @param {WindingFacts} facts @returns {string[]} each once */
const leadsOf = ({ pairs }) =>
  Array.from(new Set(Object.keys(pairs).join("-").split("-"))).sort();

/** @param {WindingFacts} facts */
function isEven({ pairs }) {
  const names = Object.keys(pairs);
  return names.every((pair) => pairs[pair] === pairs[names[0]]);
}

/** @param {WindingFacts} facts
 * @returns {boolean} three leads, with names, and either one value or two windings */
export function mayBeUnnamed(facts) {
  const leads = leadsOf(facts);
  if (leads.length !== 3 || leads.join("") === "123") return false;
  return hasTwoWindings(facts) || (isTriangle(Object.keys(facts.pairs)) && isEven(facts));
}

/** @param {WindingFacts} facts @returns {boolean} a run and a start winding on three leads */
export function hasTwoWindings(facts) {
  const uneven = Object.keys(facts.pairs).length > 1 && !isEven(facts);
  return leadsOf(facts).length === 3 && (facts.connection === "single-phase" || uneven);
}

/** @param {WindingFacts} facts @param {Object<string, Repeated>} read
 * @returns {WindingFacts} of leads 1, 2 and 3: each value where the reading belongs to it
 * @throws {Error} Refusal where two windings are told apart by fewer than three readings */
export function factsByNumber(facts, read) {
  /** @type {Object<string, number>} */
  const pairs = {};
  if (!hasTwoWindings(facts)) {
    UNNAMED.forEach((pair) => { pairs[pair] = facts.pairs[Object.keys(facts.pairs)[0]]; });
    return { ...facts, pairs };
  }
  if (Object.keys(read).length < UNNAMED.length) {
    throw new Refusal(statement("winding.needs-three"), { missing: true });
  }
  const values = threeValues(facts);
  const ordered = Object.keys(values).map((pair) => values[pair]).sort((a, b) => a - b);
  if (!inFigures(read)) {
    // Nobody can tell which is which: only what is open or shorted is said.
    UNNAMED.forEach((pair) => { pairs[pair] = ordered[2]; });
    return { ...facts, pairs, toleranceShare: null, balanceShare: null };
  }
  const byOhm = [...UNNAMED].sort((a, b) => read[a].rOhm - read[b].rOhm);
  UNNAMED.forEach((pair) => { pairs[pair] = ordered[byOhm.indexOf(pair)]; });
  return { ...facts, pairs, balanceShare: null };
}

/** @param {WindingFacts} facts
 * @returns {Object<string, number>} the pair across both windings added where it is not noted */
function threeValues({ pairs }) {
  const names = Object.keys(pairs);
  if (names.length === UNNAMED.length) return pairs;
  const [first, second] = names;
  const common = sharedLead(first, second);
  const both = [otherEnd(first, common), otherEnd(second, common)].sort().join("-");
  return { ...pairs, [both]: pairs[first] + pairs[second] };
}

/** @param {Object<string, Repeated>} read */
const inFigures = (read) =>
  Object.keys(read).every((pair) => read[pair].rOhm > 0 && read[pair].rOhm < Infinity);

/** @param {Object<string, Repeated>} read
 * @param {import("../numbers/instruments.js").Meter} meter
 * @returns {?ThreeLeads} what three readings between three leads say of two windings */
export function leadsFound(read, meter) {
  const pairs = Object.keys(read);
  if (!isTriangle(pairs) || !inFigures(read)) return null;
  if (pairs.some((pair) => read[pair].rOhm > meterSpanOhm(meter))) return null;
  const beside = meterBesideOhm(meter, pairs.map((pair) => read[pair].rOhm));
  /** @type {Object<string, number>} */
  const ohms = {};
  /** @type {Object<string, number>} */
  const halfWidthsOhm = {};
  /** @type {Object<string, number>} */
  const besideHalvesOhm = {};
  pairs.forEach((pair, i) => {
    const { rOhm, halfOhm } = read[pair];
    ohms[pair] = rOhm;
    halfWidthsOhm[pair] = Math.hypot(meterHalfOhm(meter, rOhm), halfOhm);
    besideHalvesOhm[pair] = Math.hypot(beside[i], halfOhm);
  });
  return threeLeads(ohms, { halfWidthsOhm, besideHalvesOhm });
}

/** @param {WindingFacts} facts @param {?ThreeLeads} found
 * @returns {?import("./statement.js").Statement} which of leads 1, 2 and 3 is which of the entry's */
export function leadNames(facts, found) {
  if (!found || !found.addsUp) return null;
  if (!found.commonKnown) return statement("winding.names-none");
  const values = threeValues(facts);
  const [small, middle] = Object.keys(values).sort((a, b) => values[a] - values[b]);
  const common = sharedLead(small, middle);
  const figures = { common: found.common, common_name: common };
  if (!found.runKnown || values[small] === values[middle]) {
    return statement("winding.names-common",
      { ...figures, leads: [found.run, found.start].sort() });
  }
  return statement("winding.names", {
    ...figures, less: found.run, less_name: otherEnd(small, common), more: found.start,
    more_name: otherEnd(middle, common),
  });
}
