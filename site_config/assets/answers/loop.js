// One reading of a motor's PTC loop. Mirrors kb/answers/loop.py.

import { INSTRUCTIONS } from "../catalog.js";
import { judgeLoop } from "../numbers/loop-verdict.js";
import { COLD_K, LOWEST_C, SHORTED_OHM, usualLeastOhm } from "../numbers/switching-ptc.js";
import { Refusal, statement } from "./statement.js";
import { take } from "./tools.js";
import { typedReadingOhm, typedTemperature } from "./typed.js";

/**
 * @typedef {import("./statement.js").Statement} Statement
 * @typedef {import("../numbers/loop-verdict.js").LoopVerdict} LoopVerdict
 * @typedef {import("../numbers/switching-ptc.js").Loop} Loop
 * What was typed; without a temperature it is told what holds in a cold motor.
 * @typedef {{loop: import("../numbers/switching-ptc.js").Loop, reading: string, at: string,
 *   unit?: string, tools: import("./tools.js").Tools, shortOhm: number,
 *   instructions?: string[]}} LoopQuestion
 * @typedef {{state: string, unit: string, tC: ?number, shownOhm: number,
 *   verdict: LoopVerdict, headline: Statement,
 *   expected: Statement, instruction: string, cautions: string[]}} LoopAnswer
 */

/** Why nothing is decided of a loop that reads little, whatever its temperature. */
const LOW = ["short", "usual"];
const CAUTIONS = ["loop-wires-off", "loop-test-voltage", "maker-first"];

/** @param {LoopQuestion} question @returns {LoopAnswer}
 * @throws {Refusal} a field empty or unreadable, or no limit at that temperature */
export function answerLoop(question) {
  const { loop, tools, shortOhm, instructions = [] } = question;
  const { tC, unit } = temperatureIn(question);
  const shownOhm = typedReadingOhm(question.reading, { field: "reading" });
  const [verdict, headline] = tC === null ? atAnyWarmth(question, shownOhm)
    : atWarmth(judged(loop, take(tools, shownOhm, { tC }), shortOhm), loop, tC, shownOhm);
  return {
    state: verdict.verdict, unit, tC, shownOhm, verdict, headline,
    expected: expected(verdict, { inSeries: loop.inSeries, cold: tC === null }),
    instruction: INSTRUCTIONS[verdict.verdict].find((name) => instructions.includes(name)) || "",
    cautions: CAUTIONS,
  };
}

/** @param {LoopQuestion} question @returns {{tC: ?number, unit: string}} */
function temperatureIn({ at, unit = "C" }) {
  return at.trim() ? typedTemperature(at, { field: "at", unit }) : { tC: null, unit };
}

/** @param {LoopVerdict} verdict @param {Loop} loop @param {number} tC @param {number} shownOhm
 * @returns {[LoopVerdict, Statement]} */
function atWarmth(verdict, loop, tC, shownOhm) {
  return [verdict, headline(verdict, loop, tC, shownOhm)];
}

/** A cold loop has one limit from −20 °C up to 20 K below its response. What is more than that may
 * be a hot motor's, which has tripped: that stays open. A short, and less than such loops usually
 * read, are so at any temperature.
 * @param {LoopQuestion} question @param {number} shownOhm @returns {[LoopVerdict, Statement]} */
function atAnyWarmth({ loop, tools, shortOhm }, shownOhm) {
  const coldC = loop.tripC - COLD_K;
  // The limit is the same all over that range, so no error of a temperature counts.
  const measured = take({ ...tools, thermometer: null, placement: "held-on" }, shownOhm,
    { tC: coldC });
  const cold = judgeLoop(loop, { ...measured, placementHalfK: 0 }, { shortOhm });
  if (cold.verdict === "short" || LOW.includes(cold.dominant || "")) {
    return atWarmth(cold, loop, coldC, shownOhm);
  }
  if (cold.verdict === "within") {
    return [cold, statement("loop.within-cold",
      { shown_ohm: shownOhm, low_c: LOWEST_C, high_c: coldC })];
  }
  const name = cold.verdict === "undecided" ? "close-cold" : "more-than-cold";
  return [{ ...cold, verdict: "undecided", dominant: null },
    statement(`loop.${name}`, { shown_ohm: shownOhm })];
}

/** @param {Loop} loop
 * @param {import("../numbers/instruments.js").Measured} measured @param {number} shortOhm */
function judged(loop, measured, shortOhm) {
  const { tC } = measured;
  if (tC < LOWEST_C) {
    throw new Refusal(statement("field.beyond-loop", { t_c: tC, low_c: LOWEST_C }), { field: "at" });
  }
  return judgeLoop(loop, measured, { shortOhm });
}

/** @param {LoopVerdict} verdict
 * @param {{inSeries: number, cold: boolean}} loop cold: where nobody took a temperature
 * @returns {Statement} */
function expected({ lowOhm, highOhm }, { inSeries, cold }) {
  if (lowOhm !== null) return statement("loop.expect-tripped", { low_ohm: lowOhm });
  if (highOhm === null) return statement("loop.expect-anything");
  return statement(`loop.expect-${cold ? "cold-motor" : "cold"}`,
    { high_ohm: highOhm, in_series: inSeries });
}

/** @param {LoopVerdict} verdict @param {Loop} loop @param {number} tC @param {number} shownOhm
 * @returns {Statement} */
function headline({ verdict, lowOhm, highOhm, dominant }, loop, tC, shownOhm) {
  const figures = { shown_ohm: shownOhm, t_c: tC };
  if (verdict === "within") return statement("loop.within", figures);
  if (verdict === "outside") {
    // Where it has a highest resistance it must conduct; where it has a least it must block.
    return statement(`loop.outside-${highOhm === null ? "low" : "high"}`, figures);
  }
  if (verdict === "open") return statement("loop.open", { high_ohm: highOhm });
  if (verdict === "short") return statement("loop.short", { shown_ohm: shownOhm });
  if (LOW.includes(dominant || "")) {
    return statement(`loop.close-${dominant}`, {
      shown_ohm: shownOhm, shorted_ohm: SHORTED_OHM, usual_ohm: usualLeastOhm(loop),
      in_series: loop.inSeries,
    });
  }
  if (lowOhm === null && highOhm === null) return statement("loop.switching", { t_c: tC });
  return statement(dominant === null ? "loop.over-range" : `loop.close-${dominant}`);
}
