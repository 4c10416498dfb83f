// What else would make a reading, and for each explanation the step that tells. Mirrors
// kb/answers/reading_explained.py.

import { explainAnywhere } from "../numbers/any-temperature.js";
import { explain } from "../numbers/likely-faults.js";
import { statement } from "./statement.js";
import { ICE, SISTER } from "./typed.js";

/**
 * @typedef {import("../numbers/explanations.js").Explanation} Explanation
 * @typedef {import("./judged.js").Judged} Judged
 * @typedef {import("./judged.js").SensorFacts} SensorFacts
 * @typedef {import("./statement.js").Statement} Statement
 * tell: how to tell whether it is so.
 * @typedef {{explanation: Explanation, statement: Statement, tell: Statement}} Explained
 */

/** Verdicts that ask for another explanation. */
export const EXPLAINED = ["outside", "off-curve", "short", "open"];
/** So far from the first a second temperature tells ohms from a drift: common practice, no source. */
const SECOND_APART_K = 15;
/** Figures of explanations, and how a statement names them. */
const FIGURES = [
  ["tImpliedC", "t_implied_c"], ["seriesOhm", "series_ohm"], ["leakOhm", "leak_ohm"],
  ["sensorOhm", "sensor_ohm"], ["pullUpOhm", "pull_up_ohm"], ["atC", "at_c"],
];

/** @param {SensorFacts} asked @param {Judged} judged
 * @param {{shownOhm: number, placement: string, beside: import("./reading-earlier.js").Counted[]}} how
 *   shownOhm: as typed; a figure beyond what the meter can show is a slip
 * @returns {Explained[]} the likeliest first */
export function whatElse(asked, judged, { shownOhm, placement, beside }) {
  if (!EXPLAINED.includes(judged.verdict.verdict)) return [];
  const { at, measured } = judged;
  const inCup = placement === ICE || placement === SISTER;
  // One sees which sensor is in the cup: no plug of another place is read there.
  const sensor = inCup ? { ...asked, labels: {}, twins: [] } : asked;
  const { curve, allowK = 0, pullUpOhm = null, familyCurves: family = {} } = sensor;
  const first = measured.rOhm < Infinity ? measured
    : { ...measured, rOhm: shownOhm, meterHalfOhm: 0 };
  const found = !at ? anywhere(sensor, judged) : explain({
    curve, allowK, pullUpOhm, family, others: sensor.otherCurves || {},
    unit: inCup ? "" : at.unit, hasTwins: Boolean((sensor.twins || []).length),
  }, [first, ...beside.map((other) => other.measured)]);
  return found.map((explanation) => ({
    explanation, statement: explained(explanation, sensor, at ? at.unit : "C"),
    tell: tellOf(explanation, sensor),
  }));
}

/** Without a temperature some curve of the notes always fits: the family's alone count.
 * @param {SensorFacts} sensor @param {Judged} judged */
function anywhere({ curve, pullUpOhm = null, familyCurves = {} }, { measured, meets }) {
  return meets ? explainAnywhere(curve, measured, { meets, pullUpOhm, others: familyCurves }) : [];
}

/** @param {Explanation} found @returns {string[]} the curves that it names */
const curvesOf = ({ figures: { curve, curves } }) => curves || (curve ? [curve] : []);

/** @param {Explanation} found @param {SensorFacts} sensor
 * @returns {string[]} the labels of the family's sensors on one of its curves */
function labelsOf(found, { labels = {} }) {
  /** @type {string[]} */
  const none = [];
  return none.concat(...curvesOf(found).map((curve) => labels[curve] || []));
}

/** @param {Explanation} found @param {SensorFacts} sensor @param {string} unit
 * @returns {Statement} */
function explained(found, sensor, unit) {
  const { kind, tImpliedC, errorK, causes, figures: own } = found;
  if (kind === "several") {
    return statement("explanation.several",
      { causes: causes.map((cause) => explained(cause, sensor, unit)) });
  }
  /** @type {Object<string, any>} */
  const all = { ...own, tImpliedC };
  /** @type {Object<string, any>} */
  const figures = {};
  FIGURES.forEach(([from, to]) => { if (typeof all[from] === "number") figures[to] = all[from]; });
  let name = kind;
  if ("times" in own) name += own.times > 1 ? "-low" : "-high";
  if (kind === "fahrenheit") name += `-${unit.toLowerCase()}`;
  if (kind === "leak" && !sensor.pullUpOhm) name += "-plugged";
  if (kind === "exchanged") figures.labels = sensor.twins;
  if (kind === "other-curve") {
    figures.curves = curvesOf(found);
    const labels = labelsOf(found, sensor);
    if (labels.length) [name, figures.labels] = ["family-curve", labels];
  }
  if (errorK !== null) figures.error_k = Math.abs(errorK);
  else if (tImpliedC !== null) name += "-anywhere";
  return statement(`explanation.${name}`, figures);
}

/** @param {Explanation} found @param {SensorFacts} sensor @returns {Statement} */
function tellOf(found, sensor) {
  const { kind, causes } = found;
  const labels = labelsOf(found, sensor);
  if (labels.length) return statement("tell.family-curve", { labels });
  if (kind === "exchanged") return statement("tell.same-curve", { labels: sensor.twins });
  if (kind === "several") {
    const ohms = causes.find((cause) => cause.kind === "series-resistance" || cause.kind === "leak");
    return statement(`tell.several-${ohms ? ohms.kind : "other"}`, { apart_k: SECOND_APART_K });
  }
  return statement(`tell.${kind}`);
}
