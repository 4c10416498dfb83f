// Not decided: what would settle it? Mirrors kb/answers/reading_settling.py.

import { PLACEMENTS } from "../catalog.js";
import { FIXED_POINT, meterHalfOhm, meterSpanOhm, thermometerHalfK } from "../numbers/instruments.js";
import { expandedK, rectangular } from "../numbers/verdict.js";
import { statement } from "./statement.js";

/** So many instruments of a sort are named: the first is the team's own. */
const MOST_NAMED = 2;
/** @type {Term[]} */
const TERMS = ["placement", "thermometer", "meter"];

/**
 * @typedef {"meter"|"thermometer"|"placement"} Term that something else would better
 * @typedef {import("../numbers/verdict.js").Verdict} Verdict
 * What one way would leave: standard uncertainty in K.
 * @typedef {{id: string, leftK: number}} Offer
 * One change that alone would decide it: a placement's name, or an instrument's id and name.
 * @typedef {{term: string, id: string, name: string}} Way
 * @typedef {{statements: import("./statement.js").Statement[], ways: Way[],
 *   otherwise: ?import("./statement.js").Statement}} Settling
 *   otherwise: where nothing alone is enough, all the best together or nothing at all
 */

/**
 * @param {Verdict} verdict
 * @param {{measured: import("../numbers/instruments.js").Measured,
 *   tools: import("./tools.js").Tools, kit: import("./tools.js").Kit}} how
 * @returns {?Settling} nothing where no uncertainty is to blame
 */
export function whatSettles(verdict, { measured, tools, kit }) {
  if (!verdict.settling) return null;
  const { neededK, meterCan } = verdict.settling;
  const statements = [statement(`settling.needed-${verdict.dominant}`, { needed_k: neededK })];
  if (!meterCan) {
    statements.push(
      statement("settling.meter-cannot", { instrument: tools.meter ? tools.meter.name : "" }));
  }
  const offers = {
    placement: betterPlacements(verdict),
    thermometer: thermometersK(kit.thermometers, measured.tC),
    meter: metersK(kit.meters, verdict, measured),
  };
  const ways = waysOf(offers, kit, verdict.termsK, neededK);
  if (ways.length) return { statements, ways, otherwise: null };
  const iced = offers.placement.some(({ id }) => id === FIXED_POINT);
  const best = TERMS.map((term) => (term === "thermometer" && iced ? 0
    : Math.min(...offers[term].map((offer) => offer.leftK), verdict.termsK[term])));
  // Nothing that is carried betters the curve itself.
  const together = expandedK(...best, verdict.termsK.curve) < neededK;
  return { statements, ways, otherwise: statement(`settling.${together ? "together" : "nothing"}`) };
}

/** @param {Verdict} verdict @returns {Offer[]} the closest first */
function betterPlacements(verdict) {
  return Object.keys(PLACEMENTS)
    .map((id) => ({ id, leftK: rectangular(PLACEMENTS[id]) }))
    .filter((offer) => offer.leftK < verdict.termsK.placement);
}

/** @param {import("./tools.js").NamedThermometer[]} probes @param {number} tC @returns {Offer[]} */
function thermometersK(probes, tC) {
  return probes
    .filter(({ thermometer }) => tC >= thermometer.low_c && tC <= thermometer.high_c)
    .map(({ id, thermometer }) => ({ id, leftK: rectangular(thermometerHalfK(thermometer, tC)) }));
}

/** @param {import("./tools.js").NamedMeter[]} meters @param {Verdict} verdict
 * @param {import("../numbers/instruments.js").Measured} measured @returns {Offer[]} */
function metersK(meters, verdict, { rOhm, meterHalfOhm: halfOhm }) {
  const perOhm = verdict.termsK.meter ? verdict.termsK.meter / rectangular(halfOhm) : 0;
  return meters
    .filter(({ meter }) => rOhm <= meterSpanOhm(meter))
    .map(({ id, meter }) => ({ id, leftK: rectangular(meterHalfOhm(meter, rOhm)) * perOhm }));
}

/** @param {Record<Term, Offer[]>} offers @param {import("./tools.js").Kit} kit
 * @param {Verdict["termsK"]} termsK @param {number} neededK
 * @returns {Way[]} the least trouble first */
function waysOf(offers, kit, termsK, neededK) {
  /** @param {Term} term */
  const enough = (term) => offers[term].filter(({ id, leftK }) => {
    /** @type {Verdict["termsK"]} */
    const now = { ...termsK, [term]: leftK };
    if (term === "placement" && id === FIXED_POINT) now.thermometer = 0;
    return expandedK(now.meter, now.thermometer, now.placement, now.curve) < neededK;
  });
  // Of the placements that are enough, the least trouble: the last, as the closest come first.
  const placements = enough("placement").slice(-1)
    .map(({ id }) => ({ term: "placement", id, name: "" }));
  /** @param {Term} term @param {{id: string, name: string}[]} tools */
  const named = (term, tools) => enough(term).slice(0, MOST_NAMED).map(({ id }) =>
    ({ term, id, name: tools.filter((tool) => tool.id === id)[0].name }));
  return [...placements, ...named("thermometer", kit.thermometers), ...named("meter", kit.meters)];
}
