// Three windings between three leads: where is the fault, when one pair stands apart? Mirrors
// kb/numbers/winding_triangle.py.

/** The gap to the pair apart must be so many times the gap between the other two. */
const CLEAR_TIMES = 2;

/** A winding that is off by a share moves one of three pairs off their mean by a third of that. */
export const PHASE_TIMES = 3;

/** @param {string[]} pairs @returns {boolean} whether these are the three pairs of three leads */
export function isTriangle(pairs) {
  const sides = new Set(pairs.map((pair) => pair.split("-").sort().join("-")));
  const leads = new Set(pairs.join("-").split("-"));
  return pairs.length === 3 && sides.size === 3 && leads.size === 3;
}

/** high: whether the pair reads more than the others; lead: the one that the two others share.
 * @typedef {{pair: string, high: boolean, lead: string}} PairApart */

/** In a star a fault moves the two pairs that share its lead, and the third is the sound one; in a
 * delta it moves its own pair most.
 * @param {Object<string, number>} readingsOhm by pair of leads; windings that should be equal
 * @returns {?PairApart} of three between three leads; else null */
export function pairApart(readingsOhm) {
  const pairs = Object.keys(readingsOhm);
  if (!isTriangle(pairs)) return null;
  const [low, middle, high] = pairs.sort((a, b) => readingsOhm[a] - readingsOhm[b]);
  const belowOhm = readingsOhm[middle] - readingsOhm[low];
  const aboveOhm = readingsOhm[high] - readingsOhm[middle];
  if (aboveOhm > CLEAR_TIMES * belowOhm) return { pair: high, high: true, lead: sharedLead(low, middle) };
  if (belowOhm > CLEAR_TIMES * aboveOhm) return { pair: low, high: false, lead: sharedLead(middle, high) };
  return null;
}

/** @param {string} first @param {string} second @returns {string} the lead both have, or nothing */
export function sharedLead(first, second) {
  return first.split("-").filter((lead) => second.split("-").includes(lead))[0] || "";
}
