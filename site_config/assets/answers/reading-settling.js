// Not decided: what would settle it? Mirrors kb/answers/reading_settling.py.

import { PLACEMENTS } from "../catalog.js";
import { meterHalfOhm, meterSpanOhm, thermometerHalfK } from "../numbers/instruments.js";
import { expandedK, rectangular } from "../numbers/verdict.js";
import { statement } from "./statement.js";

/** So many instruments of a sort are named: the first is the team's own. */
const MOST_NAMED = 2;
const TERMS = ["placement", "thermometer", "meter"];

/**
 * One change that alone would decide it: a placement's name, or an instrument's id and name.
 * @typedef {{term: string, id: string, name: string}} Way
 * @typedef {{statements: import("./statement.js").Statement[], ways: Way[],
 *   otherwise: ?import("./statement.js").Statement}} Settling
 *   otherwise: where nothing alone is enough, all the best together or nothing at all
 */

/**
 * @param {import("../numbers/verdict.js").Verdict} verdict
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
  const best = TERMS.map((term) =>
    Math.min(...offers[term].map((offer) => offer.leftK), verdict.termsK[term]));
  const together = expandedK(...best) < neededK;
  return { statements, ways, otherwise: statement(`settling.${together ? "together" : "nothing"}`) };
}

/** Standard uncertainty in K that each way of taking would leave, the closest first. */
function betterPlacements(verdict) {
  return Object.keys(PLACEMENTS)
    .map((id) => ({ id, leftK: rectangular(PLACEMENTS[id]) }))
    .filter((offer) => offer.leftK < verdict.termsK.placement);
}

function thermometersK(probes, tC) {
  return probes
    .filter(({ thermometer }) => tC >= thermometer.low_c && tC <= thermometer.high_c)
    .map(({ id, thermometer }) => ({ id, leftK: rectangular(thermometerHalfK(thermometer, tC)) }));
}

function metersK(meters, verdict, { rOhm, meterHalfOhm: halfOhm }) {
  const perOhm = verdict.termsK.meter ? verdict.termsK.meter / rectangular(halfOhm) : 0;
  return meters
    .filter(({ meter }) => rOhm <= meterSpanOhm(meter))
    .map(({ id, meter }) => ({ id, leftK: rectangular(meterHalfOhm(meter, rOhm)) * perOhm }));
}

/** @returns {Way[]} the least trouble first */
function waysOf(offers, kit, termsK, neededK) {
  const enough = (term) => offers[term].filter(({ leftK }) =>
    expandedK(...["meter", "thermometer", "placement"].map((name) =>
      (name === term ? leftK : termsK[name]))) < neededK);
  // Of the placements that are enough, the least trouble: the last, as the closest come first.
  const placements = enough("placement").slice(-1)
    .map(({ id }) => ({ term: "placement", id, name: "" }));
  const named = (term, tools) => enough(term).slice(0, MOST_NAMED).map(({ id }) =>
    ({ term, id, name: tools.find((tool) => tool.id === id).name }));
  return [...placements, ...named("thermometer", kit.thermometers), ...named("meter", kit.meters)];
}
