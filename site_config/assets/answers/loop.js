// One reading of a motor's PTC loop. Mirrors kb/answers/loop.py.

import { INSTRUCTIONS } from "../catalog.js";
import { judgeLoop } from "../numbers/loop-verdict.js";
import { Unreadable } from "../numbers/notation.js";
import { Refusal, statement } from "./statement.js";
import { take } from "./tools.js";
import { typedReadingOhm, typedTemperature } from "./typed.js";

/**
 * @typedef {import("./statement.js").Statement} Statement
 * @typedef {import("../numbers/loop-verdict.js").LoopVerdict} LoopVerdict
 * @typedef {{loop: import("../numbers/switching-ptc.js").Loop, reading: string, at: string,
 *   unit?: string, tools: import("./tools.js").Tools, shortOhm: number,
 *   instructions?: string[]}} LoopQuestion
 * @typedef {{state: string, unit: string, tC: number, shownOhm: number,
 *   verdict: LoopVerdict, headline: Statement,
 *   expected: Statement, instruction: string, cautions: string[]}} LoopAnswer
 */

const CAUTIONS = ["loop-test-voltage", "sensor-unplugged", "maker-first"];

/** @param {LoopQuestion} question @returns {LoopAnswer}
 * @throws {Refusal} a field empty or unreadable, or no limit at that temperature */
export function answerLoop({
  loop, reading, at, unit: bare = "C", tools, shortOhm, instructions = [],
}) {
  const { tC, unit } = typedTemperature(at, { field: "at", unit: bare });
  const shownOhm = typedReadingOhm(reading, { field: "reading" });
  const measured = take(tools, shownOhm, { tC });
  const verdict = judged(loop, measured, shortOhm);
  return {
    state: verdict.verdict, unit, tC, shownOhm, verdict,
    headline: headline(verdict, tC, shownOhm),
    expected: expected(verdict, loop.inSeries),
    instruction: INSTRUCTIONS[verdict.verdict].find((name) => instructions.includes(name)) || "",
    cautions: CAUTIONS,
  };
}

/** @param {import("../numbers/switching-ptc.js").Loop} loop
 * @param {import("../numbers/instruments.js").Measured} measured @param {number} shortOhm */
function judged(loop, measured, shortOhm) {
  try {
    return judgeLoop(loop, measured, { shortOhm });
  } catch (error) {
    if (!(error instanceof Unreadable)) throw error;
    throw new Refusal(statement("field.beyond-loop", { why: error.message }), { field: "at" });
  }
}

/** @param {LoopVerdict} verdict @param {number} inSeries @returns {Statement} */
function expected({ lowOhm, highOhm }, inSeries) {
  if (lowOhm !== null) return statement("loop.expect-tripped", { low_ohm: lowOhm });
  if (highOhm === null) return statement("loop.expect-anything");
  return statement("loop.expect-cold", { high_ohm: highOhm, in_series: inSeries });
}

/** @param {LoopVerdict} verdict @param {number} tC @param {number} shownOhm
 * @returns {Statement} */
function headline({ verdict, lowOhm, highOhm, dominant }, tC, shownOhm) {
  const figures = { shown_ohm: shownOhm, t_c: tC };
  if (verdict === "within") return statement("loop.within", figures);
  if (verdict === "outside") {
    // Where it has a highest resistance it must conduct; where it has a least it must block.
    return statement(`loop.outside-${highOhm === null ? "low" : "high"}`, figures);
  }
  if (verdict === "open") return statement("loop.open", { high_ohm: highOhm });
  if (verdict === "short") return statement("loop.short", { shown_ohm: shownOhm });
  if (lowOhm === null && highOhm === null) return statement("loop.switching", { t_c: tC });
  return statement(dominant === null ? "loop.over-range" : `loop.close-${dominant}`);
}
