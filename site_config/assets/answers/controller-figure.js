// What the controller itself shows for a sensor, held against the thermometer. Mirrors
// kb/answers/controller_figure.py.

import { decided, expandedK, rectangular } from "../numbers/verdict.js";
import { judgeTyped, temperatureInRange } from "./judged.js";
import { Refusal, statement } from "./statement.js";
import { shownBy, take } from "./tools.js";
import { typedReadingOhm, typedTemperature } from "./typed.js";

/** How far a sound board may be off, and half a degree of its display: common practice, no source. */
export const BOARD_K = 1;
export const DISPLAY_HALF_K = 0.5;
const CAUTIONS = ["maker-first"];

/**
 * @typedef {import("./judged.js").SensorFacts} SensorFacts
 * @typedef {import("./statement.js").Statement} Statement
 * shown: what the controller shows; at: the thermometer beside the sensor; reading: its resistance,
 * unplugged, or nothing.
 * @typedef {{sensor: SensorFacts, shown: string, at: string, unit?: string, reading?: string,
 *   tools: import("./tools.js").Tools, shortOhm?: ?number}} ControllerQuestion
 * state: agrees, stands-out or undecided; whose: whose fault it is, or how to find out.
 * @typedef {{state: string, unit: string, tC: number, shownC: number, offK: number, limitK: number,
 *   uncertaintyK: number, headline: Statement, whose: ?Statement,
 *   cautions: string[]}} ControllerAnswer
 */

/** @param {ControllerQuestion} question @returns {ControllerAnswer}
 * @throws {Refusal} a field empty or unreadable, or it was not said how the temperature was taken */
export function answerController(question) {
  const { sensor, unit = "C", tools } = question;
  const { curve, allowK = 0 } = sensor;
  if (!question.shown.trim()) {
    throw new Refusal(statement("controller.shown-missing"), { field: "shown", missing: true });
  }
  const shown = typedTemperature(question.shown, { field: "shown", unit });
  const at = temperatureInRange(sensor, question.at, { unit, tools });
  const taken = take(tools, 0, { tC: at.tC });
  const limitK = Math.max(curve.tolK(at.tC), allowK) + BOARD_K;
  const uncertaintyK = expandedK(rectangular(taken.thermometerHalfK),
    rectangular(taken.placementHalfK), rectangular(DISPLAY_HALF_K));
  const offK = shown.tC - at.tC;
  const known = curve.toleranceKnown || allowK > 0;
  const way = known ? decided(offK, { limitK, uncertaintyK }) : 0;
  const state = way > 0 ? "agrees" : way < 0 ? "stands-out" : "undecided";
  return {
    state, unit: at.unit, tC: at.tC, shownC: shown.tC, offK, limitK, uncertaintyK,
    headline: statement(`controller.${known ? state : "undecided-limit"}`,
      { shown_c: shown.tC, off_k: Math.abs(offK), t_c: at.tC }),
    whose: state === "agrees" ? null : whoseFault(question, shown.tC),
    cautions: CAUTIONS,
  };
}

/** @param {ControllerQuestion} question @param {number} shownC @returns {Statement} */
function whoseFault({ sensor, at, unit = "C", reading = "", tools, shortOhm = null }, shownC) {
  if (!reading.trim()) return statement("controller.next-read");
  const shown = shownBy(tools, typedReadingOhm(reading, { field: "reading" }));
  const { verdict } = judgeTyped(sensor, shown, { at, unit, tools, shortOhm });
  const { tImpliedC, termsK } = verdict;
  if (tImpliedC === null) return statement("controller.sensor-faulty");
  // How far a sound board may be from what the meter read: its own error and both displays'.
  const mayDifferK = BOARD_K + expandedK(termsK.meter, termsK.curve, rectangular(DISPLAY_HALF_K));
  const kind = Math.abs(shownC - tImpliedC) <= mayDifferK ? "follows-sensor"
    : verdict.verdict === "within" ? "board-differs" : "both-differ";
  return statement(`controller.${kind}`, { t_implied_c: tImpliedC });
}
