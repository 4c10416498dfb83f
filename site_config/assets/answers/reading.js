// One reading of one sensor: is it right, what else explains it, what follows? Mirrors
// kb/answers/reading.py.

import { ohmDigits } from "../numbers/ohm-digits.js";
import { judgeTyped, notNeeded, temperatureInRange } from "./judged.js";
import { countedBeside } from "./reading-earlier.js";
import { whatIsExcluded } from "./reading-excluded.js";
import { whatElse } from "./reading-explained.js";
import { nextStep } from "./reading-next.js";
import { whatSettles } from "./reading-settling.js";
import { statement } from "./statement.js";
import { shownBy } from "./tools.js";
import { ICE, SISTER, typedReadingOhm } from "./typed.js";

/**
 * @typedef {import("../numbers/grid.js").Grid} Grid
 * @typedef {import("./judged.js").Judged} Judged
 * @typedef {import("./judged.js").SensorFacts} SensorFacts
 * @typedef {import("./statement.js").Statement} Statement
 * @typedef {import("../numbers/verdict.js").Verdict} Verdict
 * What was typed, with what, on which sensor; at may be empty. codeInstructions: which of when_good,
 * … the suspect of the code has that the machine shows; earlier: others of the same sensor.
 * @typedef {{sensor: SensorFacts, reading: string, at: string, unit?: string,
 *   tools: import("./tools.js").Tools, shortOhm?: ?number, afterRepair?: boolean,
 *   codeInstructions?: string[], kit?: import("./tools.js").Kit,
 *   under?: ?import("./reading-excluded.js").UnderCode,
 *   earlier?: import("./reading-earlier.js").EarlierReading[]}} ReadingQuestion
 * tC and measured are null where no temperature was given and every one says the same; beside: which
 * of temperature and placement was not needed, where one was not given; counted: the others that the
 * explanations rest on too.
 * @typedef {{state: string, unit: string, tC: ?number, shownOhm: number, digits: number,
 *   measured: ?import("../numbers/instruments.js").Measured,
 *   verdict: Verdict, headline: Statement, beside: Statement[],
 *   excluded: ?import("./reading-excluded.js").Excluded,
 *   explanations: import("./reading-explained.js").Explained[], counted: Statement[],
 *   settling: ?import("./reading-settling.js").Settling,
 *   next: import("./reading-next.js").NextStep, cautions: string[]}} ReadingAnswer
 */

/** What stands under every verdict on a sensor, by id. */
const CAUTIONS = ["sensor-unplugged", "maker-first"];
/** Nearer to the temperature measured it is the same: nobody measures the next figure of either. */
export const SAME_K = 0.005;

/** @param {ReadingQuestion} question @returns {ReadingAnswer}
 * @throws {import("./statement.js").Refusal} a field unreadable, or empty and something hangs on it,
 *   or to be read two ways,
 *   or curve or thermometer do not reach */
export function answerReading(question) {
  const { sensor, tools, at, unit = "C", shortOhm = null, afterRepair = false } = question;
  const { kit = { meters: [], thermometers: [] }, codeInstructions = [], under = null } = question;
  // Nothing is missing but the reading only where the temperature can be taken.
  if (!question.reading.trim()) {
    temperatureInRange(sensor, at, { unit, tools });
  }
  const shownOhm = typedReadingOhm(question.reading, { field: "reading" });
  const judged = judgeTyped(sensor, shownBy(tools, shownOhm), { at, unit, tools, shortOhm });
  const { verdict, measured } = judged;
  const beside = afterRepair ? [] : countedBeside(sensor, question.earlier || [], judged);
  const explanations = whatElse(sensor, judged, { shownOhm, placement: tools.placement, beside });
  return {
    state: verdict.verdict,
    unit: judged.at ? judged.at.unit : unit,
    tC: judged.at ? judged.at.tC : null,
    shownOhm,
    digits: ohmDigits(sensor.curve),
    measured: judged.at ? measured : null,
    verdict,
    headline: headline(question, judged, shownOhm),
    beside: notNeeded(judged),
    excluded: whatIsExcluded(sensor, judged, under),
    explanations,
    counted: explanations.length ? beside.map((other) => other.statement) : [],
    settling: judged.at ? whatSettles(sensor, { verdict, measured, tools, kit }) : null,
    next: nextStep(verdict.verdict, {
      explanations,
      // In a bath one sees which sensor it is. With a second reading an exchanged plug is among the
      // explanations, or ruled out.
      twins: [ICE, SISTER].indexOf(tools.placement) >= 0 || beside.length ? [] : sensor.twins,
      ofCode: codeInstructions, ofSensor: sensor.instructions || [], afterRepair,
    }),
    cautions: CAUTIONS,
  };
}

/** @param {ReadingQuestion} question @param {Judged} judged @param {number} shownOhm
 * @returns {Statement} */
function headline({ sensor, tools }, judged, shownOhm) {
  const { curve } = sensor;
  const { verdict: state, lowOhm, highOhm, limitKnown } = judged.verdict;
  if (state === "open") {
    return statement("reading.open", { expected_ohm: [lowOhm, limitKnown ? highOhm : lowOhm] });
  }
  if (state === "short") return statement("reading.short", { shown_ohm: shownOhm });
  if (state === "off-curve") {
    return statement("reading.off-curve",
      { shown_ohm: shownOhm, low_c: curve.lowC, high_c: curve.highC });
  }
  return comparedHeadline(judged) || statement("reading.over-range",
    { instrument: tools.meter ? tools.meter.name : "", t_c: judged.at && judged.at.tC });
}

/** @param {Judged} judged
 * @returns {?Statement} how a temperature read compares with the one measured; null where none was */
export function comparedHeadline({ verdict, at, meets }) {
  const { verdict: state, limitKnown, tImpliedC, errorK } = verdict;
  if (tImpliedC === null || errorK === null) return null;
  const side = errorK < 0 ? "colder" : "hotter";
  const figures = { t_implied_c: tImpliedC, error_k: Math.abs(errorK) };
  if (meets) {
    return statement(`reading.outside-anywhere-${side}`,
      { ...figures, low_c: meets.lowC, high_c: meets.highC });
  }
  const why = state !== "undecided" || limitKnown ? state : "unknown-limit";
  const same = Math.abs(errorK) < SAME_K && why !== "outside";
  return statement(`reading.${why}-${same ? "same" : side}`, { ...figures, t_c: at && at.tC });
}
