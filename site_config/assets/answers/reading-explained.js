// What else would make a reading, and for each explanation the step that tells. Mirrors
// kb/answers/reading_explained.py.

import { explainAnywhere } from "../numbers/any-temperature.js";
import { explain } from "../numbers/explanations.js";
import { statement } from "./statement.js";

/**
 * @typedef {import("../numbers/explanations.js").Explanation} Explanation
 * @typedef {import("./judged.js").Judged} Judged
 * @typedef {import("./judged.js").SensorFacts} SensorFacts
 * @typedef {import("./statement.js").Statement} Statement
 * tell: how to tell whether it is so.
 * @typedef {{explanation: Explanation, statement: Statement, tell: Statement}} Explained
 */

/** Verdicts that ask for another explanation. */
const EXPLAINED = ["outside", "off-curve", "short", "open"];

/** @param {SensorFacts} sensor @param {Judged} judged
 * @returns {Explained[]} the family's curves before others, a series resistance last */
export function whatElse(sensor, judged) {
  if (!EXPLAINED.includes(judged.verdict.verdict)) return [];
  const found = judged.meets ? anywhere(sensor, judged) : atItsTemperature(sensor, judged);
  return found.map((explanation) => ({
    explanation, statement: explained(explanation, sensor), tell: tellOf(explanation, sensor),
  }));
}

/** @param {SensorFacts} sensor @param {Judged} judged */
function atItsTemperature(sensor, { measured }) {
  const { curve, allowK = 0, pullUpOhm = null, familyCurves = {}, otherCurves = {} } = sensor;
  const own = explain(curve, measured, { allowK, pullUpOhm, others: familyCurves });
  const wider = explain(curve, measured, { allowK, others: otherCurves });
  return [
    ...own.filter((found) => found.kind !== "series-resistance"),
    ...wider.filter((found) => found.kind === "other-curve"),
    ...own.filter((found) => found.kind === "series-resistance"),
  ];
}

/** Without a temperature some curve of the notes always fits: the family's alone count.
 * @param {SensorFacts} sensor @param {Judged} judged */
function anywhere({ curve, pullUpOhm = null, familyCurves = {} }, { measured, meets }) {
  return meets ? explainAnywhere(curve, measured, { meets, pullUpOhm, others: familyCurves }) : [];
}

/** @param {Explanation} found @param {SensorFacts} sensor
 * @returns {?string[]} the labels of the family's sensors on its curve */
function labelsOf(found, { labels = {} }) {
  return found.kind === "other-curve" ? labels[found.figures.curve] || null : null;
}

/** @param {Explanation} found @param {SensorFacts} sensor @returns {Statement} */
function explained(found, sensor) {
  const { kind, tImpliedC, errorK, figures: own } = found;
  if ("seriesOhm" in own) {
    return statement("explanation.series-resistance", { series_ohm: own.seriesOhm });
  }
  /** @type {Object<string, any>} */
  const figures = { t_implied_c: tImpliedC };
  if (errorK !== null) figures.error_k = Math.abs(errorK);
  const end = errorK === null ? "-anywhere" : "";
  if ("times" in own) {
    return statement(`explanation.${kind}-${own.times > 1 ? "low" : "high"}${end}`, figures);
  }
  if ("sensorOhm" in own) {
    return statement(`explanation.plugged-in${end}`,
      { ...figures, sensor_ohm: own.sensorOhm, pull_up_ohm: own.pullUpOhm });
  }
  if (!("curve" in own)) {
    return statement("explanation.board-alone", { pull_up_ohm: own.pullUpOhm });
  }
  const labels = labelsOf(found, sensor);
  const { curve } = own;
  return labels ? statement(`explanation.family-curve${end}`, { ...figures, curve, labels })
    : statement(`explanation.other-curve${end}`, { ...figures, curve });
}

/** @param {Explanation} found @param {SensorFacts} sensor @returns {Statement} */
function tellOf(found, sensor) {
  const labels = labelsOf(found, sensor);
  return labels ? statement("tell.family-curve", { labels }) : statement(`tell.${found.kind}`);
}
