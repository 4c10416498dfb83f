// One sensor of a round: its reading as typed, how it stands, and what to do with it next. Mirrors
// kb/answers/round_rows.py.

import { INSTRUCTIONS, LIMITS } from "../catalog.js";
import { answerReading } from "./reading.js";
import { overRange } from "./round-places.js";
import { Refusal, statement } from "./statement.js";

/**
 * @typedef {import("./statement.js").Statement} Statement
 * @typedef {import("../numbers/at-rest.js").Standing} Standing
 * @typedef {import("./reading.js").ReadingAnswer} ReadingAnswer
 * What was typed for one sensor; at, placement: the temperature taken with this very reading, and
 * how; elsewhere: typed on the sensor's own page, not in this round.
 * @typedef {{sensor: string, reading: string, at?: string, placement?: string,
 *   elsewhere?: boolean}} RoundReading
 * One sensor of the round; readsAs: which temperature; beside: how far from the rest, or why it is
 * held against nobody; keptOut: ice-water, no-place, alone or nothing; instruction: the
 * entry's field that says what to do; refusal: why its reading, or its temperature, cannot be taken.
 * @typedef {{sensor: string, name: string, place: string, shownOhm: ?number, tC: ?number,
 *   state: string, standing: ?Standing, keptOut: string, readsAs: ?Statement,
 *   beside: Statement[], next: ?Statement, instruction: string, refusal: ?Statement}} RoundRow
 * A reading that could be read, ready to be held against others.
 * @typedef {{sensor: import("./round-places.js").RestingSensor, typed: RoundReading,
 *   shownOhm: number, resting: import("../numbers/at-rest.js").Resting,
 *   keptOut: string}} RestedReading
 * @typedef {{tools: import("./tools.js").Tools, unit: string, shortOhm: ?number,
 *   byThermometer: boolean}} RoundManner
 */

/** Standing → what to do next with that sensor.
 * @type {Object<string, string>} */
const NEXT = {
  "stands-out": "round.next-judge", "off-curve": "round.next-judge",
  open: "round.next-plug", short: "round.next-plug",
};
/** Standing → the verdict whose instruction holds for it.
 * @type {Object<string, string>} */
const INSTRUCTED_AS = { "stands-out": "outside" };

/** @param {import("./round-places.js").RestingSensor} sensor @param {Statement} refusal
 * @returns {RoundRow} of a reading that cannot be read */
export function refusedRow({ id, name, place = "" }, refusal) {
  return {
    sensor: id, name, place, shownOhm: null, tC: null, state: "", standing: null, keptOut: "",
    readsAs: null, beside: [], next: null, instruction: "", refusal,
  };
}

/** @param {RestedReading} read @param {{standing: Standing, how: RoundManner}} round
 * @returns {RoundRow} */
export function restedRow(read, { standing, how }) {
  const { id, name, place = "", instructions = [] } = read.sensor;
  const { judged, refusal } = alongThermometer(read, how);
  const own = !read.keptOut || standing.tImpliedC === null ? standing.state : "";
  const state = judged ? judged.state : own;
  const fields = INSTRUCTIONS[INSTRUCTED_AS[own] || own] || [];
  return {
    sensor: id, name, place, shownOhm: read.shownOhm, tC: judged ? judged.tC : null, state, standing,
    keptOut: read.keptOut,
    readsAs: readsAs(read, judged, standing),
    beside: beside(read, standing, { state, how }),
    next: NEXT[own] ? statement(NEXT[own]) : null,
    instruction: fields.find((field) => instructions.includes(field)) || "",
    refusal,
  };
}

/** The verdict on a reading with a temperature of its own.
 * @param {RestedReading} read @param {RoundManner} how
 * @returns {{judged: ?ReadingAnswer, refusal: ?Statement}} */
function alongThermometer({ sensor, typed }, { tools, unit, shortOhm }) {
  const { reading, at = "", placement = "" } = typed;
  if (!at.trim()) return { judged: null, refusal: null };
  const { curve, curveId, allowK } = sensor;
  const question = {
    sensor: { curve, curveId, allowK }, reading, at, unit, tools: { ...tools, placement }, shortOhm,
  };
  try {
    return { judged: answerReading(question), refusal: null };
  } catch (refused) {
    if (!(refused instanceof Refusal)) throw refused;
    return { judged: null, refusal: refused.statement };
  }
}

/** @param {RestedReading} read @param {?ReadingAnswer} judged @param {Standing} standing
 * @returns {?Statement} */
function readsAs({ typed }, judged, standing) {
  if (!judged) {
    return standing.tImpliedC === null ? null
      : statement("round.row-reads", { t_implied_c: standing.tImpliedC });
  }
  const tImpliedC = judged.verdict.tImpliedC;
  if (tImpliedC === null) return null;
  return statement(`round.${typed.elsewhere ? "row-at-elsewhere" : "row-at"}`,
    { t_c: judged.tC, t_implied_c: tImpliedC });
}

/** How far it is from the rest, or why it is held against nobody.
 * @param {RestedReading} read @param {Standing} standing
 * @param {{state: string, how: RoundManner}} round @returns {Statement[]} */
function beside({ keptOut }, standing, { state, how }) {
  if (keptOut) {
    const instrument = how.tools.meter ? how.tools.meter.name : "";
    return [statement(`round.row-${keptOut}`),
      ...(overRange(standing) ? [statement("round.row-over-range", { instrument })] : [])];
  }
  const { offK } = standing;
  if (offK === null) return [];
  const whom = how.byThermometer ? "-thermometer" : "";
  if (Math.abs(offK) < LIMITS.middle_k) return [statement(`round.row-middle${whom}`)];
  const side = offK < 0 ? "colder" : "hotter";
  // Its verdict may be good at the temperature taken with it, and the rest still contradict it.
  const what = standing.state === "stands-out" && state !== "stands-out" ? "stands-out-" : "";
  return [statement(`round.row-${what}${side}${whom}`, { off_k: Math.abs(offK) })];
}
