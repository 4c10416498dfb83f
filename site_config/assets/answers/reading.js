// One reading of one sensor: is it right, what else explains it, what follows? Mirrors
// kb/answers/reading.py.

import { INSTRUCTIONS } from "../catalog.js";
import { voltsAtPlug } from "../numbers/divider.js";
import { explain } from "../numbers/explanations.js";
import { judge } from "../numbers/verdict.js";
import { whatSettles } from "./reading-settling.js";
import { Refusal, statement } from "./statement.js";
import { take } from "./tools.js";
import { typedReadingOhm, typedTemperature } from "./typed.js";

/**
 * @typedef {import("../numbers/grid.js").Grid} Grid
 * @typedef {import("./statement.js").Statement} Statement
 * @typedef {import("../numbers/verdict.js").Verdict} Verdict
 * What an entry says of a sensor: no words, only what decides. instructions: which of when_good,
 * when_bad, when_open, when_short the entry has; labels: curve id → the family's sensors with it.
 * @typedef {{curve: Grid, curveId: string, allowK?: number, pullUpOhm?: ?number, supplyV?: ?number,
 *   instructions?: string[], familyCurves?: Object<string, Grid>,
 *   labels?: Object<string, string[]>, otherCurves?: Object<string, Grid>}} SensorFacts
 * What was typed, with what, on which sensor.
 * @typedef {{sensor: SensorFacts, reading: string, at: string, unit?: string,
 *   tools: import("./tools.js").Tools, shortOhm?: ?number, afterRepair?: boolean,
 *   kit?: import("./tools.js").Kit}} ReadingQuestion
 * @typedef {{explanation: import("../numbers/explanations.js").Explanation,
 *   statement: Statement}} Explained
 * @typedef {{state: string, unit: string, tC: number, shownOhm: number, digits: number,
 *   measured: import("../numbers/instruments.js").Measured,
 *   verdict: Verdict, headline: Statement,
 *   explanations: Explained[], settling: ?import("./reading-settling.js").Settling,
 *   instruction: string, cautions: string[]}} ReadingAnswer
 *   instruction: the entry's field that says what to do, proved after a repair, or nothing
 * @typedef {{unit: string, tC: number, digits: number, rOhm: number, partOhm: ?number[],
 *   machineOhm: ?number[], plugV: ?number, statements: Statement[]}} ExpectedAnswer
 */

/** Verdicts that ask for another explanation. */
const EXPLAINED = ["outside", "off-curve", "short", "open"];
/** What stands under every verdict on a sensor, by id. */
const CAUTIONS = ["sensor-unplugged", "maker-first"];

/** @param {Grid} curve @returns {number} digits of ohms that tell what a kelvin needs */
export const ohmDigits = (curve) => (curve.falling ? 4 : 5);

/** @param {ReadingQuestion} question @returns {ReadingAnswer}
 * @throws {Refusal} a field empty or unreadable, or curve or thermometer do not reach */
export function answerReading(question) {
  const { sensor, tools, shortOhm = null, kit = { meters: [], thermometers: [] } } = question;
  const { tC, unit } = temperatureIn(question);
  const shownOhm = typedReadingOhm(question.reading, { field: "reading" });
  const measured = take(tools, shownOhm, { tC });
  const verdict = judge(sensor.curve, measured, { allowK: sensor.allowK || 0, shortOhm });
  return {
    state: verdict.verdict, unit, tC, shownOhm, digits: ohmDigits(sensor.curve), measured, verdict,
    headline: headline(question, verdict, { tC, shownOhm }),
    explanations: explanations(sensor, verdict, measured),
    settling: whatSettles(verdict, { measured, tools, kit }),
    instruction: instruction(question, verdict.verdict),
    cautions: CAUTIONS,
  };
}

/** @param {ReadingQuestion} question @returns {ExpectedAnswer} what it should read, before a reading
 * @throws {Refusal} as answerReading */
export function expectedReading(question) {
  const { curve, allowK = 0, pullUpOhm = null, supplyV = null } = question.sensor;
  const { tC, unit } = temperatureIn(question);
  const partOhm = curve.toleranceKnown ? [curve.low(tC), curve.high(tC)] : null;
  let machineOhm = null;
  if (allowK > curve.tolK(tC)) {
    const ends = [curve.beyondOhm(tC - allowK), curve.beyondOhm(tC + allowK), ...(partOhm || [])];
    machineOhm = [Math.min(...ends), Math.max(...ends)];
  }
  const rOhm = curve.ohm(tC);
  const plugV = pullUpOhm === null || supplyV === null ? null
    : voltsAtPlug(rOhm, { supplyV, pullUpOhm });
  const statements = [statement("reading.expect", { r_ohm: rOhm, t_c: tC })];
  if (partOhm) statements.push(statement("reading.expect-part", { part_ohm: partOhm }));
  if (machineOhm) {
    statements.push(
      statement("reading.expect-machine", { machine_ohm: machineOhm, allow_k: allowK }));
  }
  if (plugV !== null) statements.push(statement("reading.expect-volts", { plug_v: plugV }));
  return { unit, tC, digits: ohmDigits(curve), rOhm, partOhm, machineOhm, plugV, statements };
}

/** @param {ReadingQuestion} question the temperature typed must lie inside the curve's range */
function temperatureIn({ at, unit = "C", sensor }) {
  const typed = typedTemperature(at, { field: "at", unit });
  const { curve, curveId } = sensor;
  if (!curve.holds(typed.tC)) {
    throw new Refusal(statement("field.beyond-curve", {
      curve: curveId, t_c: typed.tC, low_c: curve.lowC, high_c: curve.highC,
    }), { field: "at" });
  }
  return typed;
}

/** @param {ReadingQuestion} question @param {Verdict} verdict
 * @param {{tC: number, shownOhm: number}} read @returns {Statement} */
function headline({ sensor, tools }, verdict, { tC, shownOhm }) {
  const { curve } = sensor;
  const state = verdict.verdict;
  if (state === "open") {
    const highOhm = verdict.limitKnown ? verdict.highOhm : verdict.lowOhm;
    return statement("reading.open", { expected_ohm: [verdict.lowOhm, highOhm] });
  }
  if (state === "short") return statement("reading.short", { shown_ohm: shownOhm });
  if (state === "off-curve") {
    return statement("reading.off-curve",
      { shown_ohm: shownOhm, low_c: curve.lowC, high_c: curve.highC });
  }
  if (verdict.tImpliedC === null || verdict.errorK === null) {
    return statement("reading.over-range",
      { instrument: tools.meter ? tools.meter.name : "", t_c: tC });
  }
  const side = verdict.errorK < 0 ? "colder" : "hotter";
  const why = state !== "undecided" || verdict.limitKnown ? state : "unknown-limit";
  return statement(`reading.${why}-${side}`,
    { t_implied_c: verdict.tImpliedC, error_k: Math.abs(verdict.errorK), t_c: tC });
}

/** @param {SensorFacts} sensor @param {Verdict} verdict
 * @param {import("../numbers/instruments.js").Measured} measured
 * @returns {Explained[]} the family's curves before others, a series resistance last */
function explanations(sensor, verdict, measured) {
  if (!EXPLAINED.includes(verdict.verdict)) return [];
  const { curve, allowK = 0, pullUpOhm = null, familyCurves = {}, otherCurves = {} } = sensor;
  const own = explain(curve, measured, { allowK, pullUpOhm, others: familyCurves });
  const wider = explain(curve, measured, { allowK, others: otherCurves });
  return [
    ...own.filter((found) => found.kind !== "series-resistance"),
    ...wider.filter((found) => found.kind === "other-curve"),
    ...own.filter((found) => found.kind === "series-resistance"),
  ].map((explanation) => ({ explanation, statement: explained(explanation, sensor) }));
}

/** @param {import("../numbers/explanations.js").Explanation} found @param {SensorFacts} sensor
 * @returns {Statement} */
function explained({ kind, tImpliedC, errorK, figures: own }, { labels = {} }) {
  const figures = { t_implied_c: tImpliedC, error_k: Math.abs(errorK) };
  if ("times" in own) {
    return statement(`explanation.${kind}-${own.times > 1 ? "low" : "high"}`, figures);
  }
  if ("sensorOhm" in own) {
    return statement("explanation.plugged-in",
      { ...figures, sensor_ohm: own.sensorOhm, pull_up_ohm: own.pullUpOhm });
  }
  if ("seriesOhm" in own) {
    return statement("explanation.series-resistance", { series_ohm: own.seriesOhm });
  }
  const { curve } = own;
  return labels[curve]
    ? statement("explanation.family-curve", { ...figures, curve, labels: labels[curve] })
    : statement("explanation.other-curve", { ...figures, curve });
}

/** @param {ReadingQuestion} question @param {string} state
 * @returns {string} the entry's field to show */
function instruction({ sensor, afterRepair = false }, state) {
  if (state === "within" && afterRepair) return "proved";
  return INSTRUCTIONS[state].find((name) => (sensor.instructions || []).includes(name)) || "";
}
