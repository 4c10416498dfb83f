// The one sentence on windings: which is bad and by how much, or why nothing is decided. Mirrors
// kb/answers/winding_headline.py.

import { LIMITS } from "../catalog.js";
import { NO_SHARE } from "../numbers/rounding.js";
import { statement } from "./statement.js";
import { offMean, openLead } from "./winding-faults.js";

/** A spread below this share of the mean is told as less than it. */
const HARDLY_SHARE = 5e-4;

/**
 * @typedef {import("./statement.js").Statement} Statement
 * @typedef {import("./winding-reading.js").WindingFacts} WindingFacts
 * @typedef {import("./winding-reading.js").WindingReading} WindingReading
 * @typedef {Object<string, WindingReading>} Pairs
 * @typedef {ReturnType<typeof import("../numbers/winding.js").windingBalance>} Balance
 */

/**
 * @param {WindingFacts} part
 * @param {{state: string, pairs: Pairs, balances: Balance[], tC: ?number,
 *   meter: string}} read with the meter of that name
 * @returns {Statement}
 */
export function windingHeadline(part, { state, pairs, balances, tC, meter }) {
  const lead = state === "open" && part.wound ? openLead(part, pairs) : null;
  if (lead) return lead;
  if (state === "open" || state === "short") {
    // Only a motor has a star point and a protector inside: a heater or a coil is one wire.
    const fault = state === "open" && !part.wound ? "open-wire" : state;
    return counted(`winding.${fault}`, named(pairs, (reading) => reading.state === state), meter);
  }
  if (state === "outside") {
    return statement("winding.outside",
      { faults: [...offMean(part, { pairs, balances }), ...offEntry(pairs, tC)] });
  }
  if (state === "undecided") return undecided(pairs, balances, meter);
  if (state === "within") return within(pairs, balances, tC);
  if (tC === null && part.toleranceShare !== null) return statement("winding.needs-temperature");
  return statement("winding.no-limit");
}

/** @param {Pairs} pairs @param {function(WindingReading): boolean} test @returns {string[]} */
function named(pairs, test) {
  return Object.keys(pairs).filter((pair) => test(pairs[pair]));
}

/** @param {string} id @param {string[]} pairs @param {string} meter */
function counted(id, pairs, meter) {
  const count = pairs.length === 1 ? "one" : "many";
  return statement(`${id}-${count}`, { pairs, instrument: meter });
}

/** @param {Pairs} pairs @param {?number} tC @returns {Statement[]} */
function offEntry(pairs, tC) {
  return named(pairs, (reading) => reading.state === "outside")
    .map((pair) => offAt(pair, pairs[pair], tC));
}

/** @param {string} pair @param {WindingReading} reading @param {?number} tC */
function offAt(pair, { rOhm, soundOhm, offShare, expectedOhm, allowedShare }, tC) {
  if (tC === null) {
    return statement("winding.off-any", { pair, r_ohm: rOhm, sound_ohm: soundOhm, ...judgedC() });
  }
  return statement("winding.off-entry", {
    pair, off_share: offShare, expected_ohm: expectedOhm, t_c: tC, allowed_share: allowedShare,
  });
}

/** The temperatures at which a winding is judged at all. */
const judgedC = () =>
  ({ low_c: LIMITS.winding_coldest_c, high_c: LIMITS.winding_hottest_c });

/** @param {Pairs} pairs @param {Balance[]} balances @param {string} meter */
function undecided(pairs, balances, meter) {
  const beyond = named(pairs, (reading) => reading.rOhm === Infinity);
  if (beyond.length) return counted("winding.over-range", beyond, meter);
  const empty = named(pairs, (reading) => reading.rOhm === 0);
  if (empty.length) return counted("winding.nothing", empty, meter);
  if (contactLeads(pairs, balances)) return statement("winding.contact-coarse");
  if (balances.some((balance) => balance.state === "undecided")) {
    return statement("winding.too-coarse", { instrument: meter });
  }
  const figures = { instrument: meter, half_k: LIMITS.winding_half_k };
  const worst = worstShare(balances);
  if (worst === null) return statement("winding.undecided", figures);
  return statement("winding.undecided-alike", { ...figures, worst_spread: spread(worst) });
}

/** @param {Pairs} pairs @param {Balance[]} balances
 * @returns {boolean} whether the contact and not the meter leaves it open if windings are equal */
export function contactLeads(pairs, balances) {
  return balances.some(({ state }) => state === "undecided") && Object.keys(pairs).some((pair) =>
    pairs[pair].rOhm < Infinity && pairs[pair].contactHalfOhm > pairs[pair].digitOhm);
}

/** @param {Pairs} pairs @param {Balance[]} balances @param {?number} tC */
function within(pairs, balances, tC) {
  const worst = worstShare(balances);
  const right = Object.keys(pairs).every((pair) => pairs[pair].state === "within");
  const warmth = tC === null && right ? "-any" : "";
  const figures = warmth ? judgedC() : {};
  if (worst === null) return statement(`winding.within-entry${warmth}`, figures);
  return statement(`winding.within-${right ? "both" : "alike"}${warmth}`,
    { ...figures, worst_spread: spread(worst) });
}

/** How far windings lie from their mean.
 * @param {number} worstShare */
function spread(worstShare) {
  if (worstShare < NO_SHARE) return statement("spread.alike");
  return worstShare < HARDLY_SHARE
    ? statement("spread.hardly", { hardly_share: HARDLY_SHARE })
    : statement("spread.most", { worst_share: worstShare });
}

/** The largest departure from a mean among those that are within limits.
 * @param {Balance[]} balances */
function worstShare(balances) {
  const shares = balances.filter((balance) => balance.state === "within")
    .map((balance) => Number(balance.worstShare));
  return shares.length ? Math.max(...shares) : null;
}
