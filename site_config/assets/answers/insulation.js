// A part's insulation to earth: by its own limit first, never tested too high, at any warmth.
// Mirrors kb/answers/insulation.py.

import { LIMITS } from "../catalog.js";
import { judgeInsulation } from "../numbers/insulation.js";
import { typedDamp } from "./insulation-damp.js";
import {
  checkLine, insulationBeside, insulationHeadline, insulationNotes, readLine, stateShown,
} from "./insulation-statements.js";
import { tested, windingRow } from "./insulation-tested.js";
import { watched } from "./insulation-watched.js";
import { Refusal, statement } from "./statement.js";
import { typedTemperature } from "./typed.js";

/**
 * @typedef {import("./statement.js").Statement} Statement
 * @typedef {ReturnType<typeof judgeInsulation>} InsulationVerdict
 * What was typed. tester: the id of the one used, or nothing for the notes' only one.
 * @typedef {{part: import("./insulation-tested.js").InsulationFacts, volts: string,
 *   reading: string, at: string, unit?: string,
 *   testers?: Array<import("./insulation-tested.js").NamedTester>, tester?: string,
 *   air?: string, humidity?: string, surface?: string, at15s?: string, at30s?: string,
 *   at10min?: string, trend?: string}} InsulationQuestion surface: wet, dry or nothing; trend:
 *   rising, flat, falling or nothing
 * @typedef {{state: string, unit: string, tC: ?number, volts: number, overRange: boolean,
 *   rOhm: number, verdict: InsulationVerdict, dewC: ?number, surface: string, trend: string,
 *   ratio: ?number, headline: Statement, beside: Statement[],
 *   checks: Statement[], read: Statement, notes: Statement[]}} InsulationAnswer state: nothing
 *   where it waits for the temperature; then no check of a winding either
 */

/**
 * Over range counts as the most that the tester can show: that may be too little to tell, and is
 * never too low. Of a tester that nobody knows it tells nothing.
 * @param {InsulationQuestion} question @returns {InsulationAnswer}
 * @throws {Error} Refusal: first if the part may not be tested so, then a field empty or
 *   unreadable, or what was read depends on a temperature that is not there
 */
export function answerInsulation(question) {
  const { part, volts, reading, testers = [], tester = "" } = question;
  const test = tested(part, { volts, reading, testers, tester });
  const { tC, unit } = temperatureIn(question);
  const verdict = verdictOn(part, test, tC);
  const damp = typedDamp(question, tC);
  const seen = watched(part, test, question, verdict.at40Ohm);
  const shown = { part, test, tC, verdict, damp, seen };
  return {
    state: stateShown(shown), unit, tC, volts: test.volts, overRange: test.overRange,
    rOhm: test.overRange ? Infinity : test.rOhm, verdict,
    dewC: damp.dewC, surface: damp.surface, trend: seen.trend, ratio: seen.ratio,
    headline: insulationHeadline(shown),
    beside: insulationBeside(shown),
    checks: verdict.checks.map((check) => checkLine(shown, { check })),
    read: readLine(shown),
    notes: insulationNotes(shown),
  };
}

/** @param {InsulationQuestion} question @returns {{tC: ?number, unit: string}} */
function temperatureIn({ at, unit = "C" }) {
  return at.trim() ? typedTemperature(at, { field: "at", unit }) : { tC: null, unit };
}

/** @param {InsulationQuestion["part"]} part
 * @param {import("./insulation-tested.js").Tested} test @param {?number} tC */
function verdictOn(part, test, tC) {
  if (tC !== null) return judged(part, test, tC, part.wound ? LIMITS.winding_half_k : 0);
  return part.wound ? atAnyWarmth(part, test) : judged(part, test, part.limitC);
}

/** What a winding's reading tells whatever its temperature is: it reads less the hotter it is, and
 * no correction holds below 10 and above 85 °C. What is enough at the one is enough from there up,
 * what is too little at the other is too little up to there: that is said, and is no verdict yet.
 * @param {InsulationQuestion["part"]} part
 * @param {import("./insulation-tested.js").Tested} test @returns {InsulationVerdict} */
function atAnyWarmth(part, test) {
  const coldest = judged(part, test, LIMITS.insulation_low_c).state;
  const hottest = judged(part, test, LIMITS.insulation_high_c).state;
  /** @type {InsulationVerdict} */
  const untold = { at40Ohm: null, beyond: "", state: "", checks: [] };
  if (test.rOhm === 0) return { ...untold, state: "outside" };
  if (test.overRange && !test.used) return { ...untold, state: "undecided" };
  if (coldest === "within") return { ...untold, beyond: "cold" };
  if (hottest === "outside") return { ...untold, beyond: "hot" };
  throw new Refusal(statement("insulation.temperature-missing"), { field: "at", missing: true });
}

/** @param {InsulationQuestion["part"]} part
 * @param {import("./insulation-tested.js").Tested} test @param {number} tC
 * @param {number} [tHalfK] how far the winding may be off it
 * @returns {InsulationVerdict} */
function judged(part, test, tC, tHalfK = 0) {
  const { insulation_low_c: lowC, insulation_high_c: highC } = LIMITS;
  if (!(part.limitC >= lowC && part.limitC <= highC)) {
    throw new Refusal(statement("insulation.limit-uncorrected",
      { limit_c: part.limitC, low_c: lowC, high_c: highC }));
  }
  const verdict = judgeInsulation(test.overRange ? test.mostOhm : test.rOhm, {
    // The correction is one for windings; a heater or a valve is held to its limit as read.
    tC: part.wound ? tC : part.limitC,
    material: part.material,
    percent: test.overRange || !test.used ? 0 : test.used.percent,
    tHalfK,
    partMinOhm: part.minOhm,
    partLimitC: part.limitC,
    winding: windingRow(part),
  });
  let checks = part.wound ? verdict.checks : verdict.checks.slice(0, 1);
  if (test.overRange) {
    const enough = test.used ? "within" : "undecided";
    checks = checks.map((check) =>
      ({ ...check, state: check.state === "within" ? enough : "undecided" }));
  }
  return {
    at40Ohm: part.wound ? verdict.at40Ohm : null, beyond: verdict.beyond, state: checks[0].state,
    checks,
  };
}
