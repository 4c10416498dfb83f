// One place of a resting machine: who rests with whom, and what its sensors say together. Mirrors
// kb/answers/round_places.py.

import { LIMITS } from "../catalog.js";
import { statement } from "./statement.js";

/**
 * @typedef {import("../numbers/at-rest.js").Standing} Standing
 * @typedef {import("./statement.js").Statement} Statement
 * What an entry says of a sensor at rest; place: where it rests, nothing where nobody noted it.
 * @typedef {{id: string, name: string, curve: import("../numbers/grid.js").Grid, curveId: string,
 *   allowK?: number, place?: string, instructions?: string[]}} RestingSensor
 * @typedef {{centreC: ?number, byThermometer: boolean, standing: Object<string, Standing>}} AtRest
 * What the sensors of one place say together; state: within, outside or undecided.
 * @typedef {{place: string, state: string, title: Statement, centreC: ?number,
 *   statements: Statement[], next: ?Statement}} PlaceAnswer
 * @typedef {{"stands-out": string[], undecided: string[], agrees: string[]}} ByState names
 */

/** Standings of a sensor that is faulty by itself. */
const BROKEN = ["open", "short", "off-curve"];

/** @param {RestingSensor} sensor @param {RestingSensor[]} sensors all that can take part
 * @param {{byThermometer: boolean}} how with one nobody needs company
 * @returns {string} no-place, alone, or nothing where it is held against others */
export function whyKeptOut({ place = "" }, sensors, { byThermometer }) {
  if (byThermometer || !sensors.some((other) => other.place)) return "";
  if (!place) return "no-place";
  return sensors.filter((other) => other.place === place).length > 1 ? "" : "alone";
}

/** @param {Standing} standing @returns {boolean} over range, which a good part may be */
export const overRange = ({ state, tImpliedC }) => state === "undecided" && tImpliedC === null;

/** @param {string} place
 * @param {{names: Object<string, string>, rest: AtRest, meter: string}} known names by sensor id
 * @returns {PlaceAnswer} */
export function answerPlace(place, { names, rest, meter }) {
  const sensors = Object.keys(rest.standing);
  const of = (/** @type {string} */ state) => sensors
    .filter((sensor) => rest.standing[sensor].state === state).map((sensor) => names[sensor]);
  const byState = { "stands-out": of("stands-out"), undecided: of("undecided"), agrees: of("agrees") };
  const all = sensors.map((sensor) => rest.standing[sensor]);
  const broken = all.some(({ state }) => BROKEN.includes(state));
  const sound = all.filter(({ tImpliedC }) => tImpliedC !== null);
  const few = !rest.byThermometer && sound.length < LIMITS.fewest_at_rest &&
    sound.some(({ state }) => state !== "agrees");
  return {
    place, centreC: rest.centreC, ...outcome(byState, { broken, few }),
    statements: [
      ...faulty(rest.standing, names),
      ...sensors.filter((sensor) => overRange(rest.standing[sensor])).map((sensor) =>
        statement("round.over-range", { sensor: names[sensor], instrument: meter })),
      ...(few ? [statement("round.few")] : together(rest, names)),
    ],
    next: nextStep(byState, { broken, few }),
  };
}

/** @param {ByState} byState @param {{broken: boolean, few: boolean}} known
 * @returns {{state: string, title: Statement}} */
function outcome({ "stands-out": out, undecided, agrees }, { broken, few }) {
  if (out.length === 1) {
    return { state: "outside", title: statement("round.title-stands-out", { sensor: out[0] }) };
  }
  if (out.length) {
    return { state: "outside", title: statement("round.title-stand-out", { count: out.length }) };
  }
  if (broken && (few || !agrees.length)) {
    return { state: "outside", title: statement("round.title-faulty") };
  }
  if (few) return { state: "undecided", title: statement("round.title-few") };
  if (undecided.length) return { state: "undecided", title: statement("round.title-undecided") };
  return broken ? { state: "outside", title: statement("round.title-others-agree") }
    : { state: "within", title: statement("round.title-agree") };
}

/** Who stands out or is broken has a step of its own.
 * @param {ByState} byState @param {{broken: boolean, few: boolean}} known @returns {?Statement} */
function nextStep({ "stands-out": out, undecided }, { broken, few }) {
  if (few) return statement("round.next-few");
  if (out.length || broken) return null;
  return statement(undecided.length ? "round.next-undecided" : "round.next-agree");
}

/** @param {Object<string, Standing>} standing @param {Object<string, string>} names
 * @returns {Statement[]} who is so by itself, whatever the others read */
export function faulty(standing, names) {
  return Object.keys(standing).filter((sensor) => BROKEN.includes(standing[sensor].state))
    .map((sensor) => statement(`round.${standing[sensor].state}`, { sensor: names[sensor] }));
}

/** @param {AtRest} rest @param {Object<string, string>} names @returns {Statement[]} */
function together({ standing, byThermometer, centreC }, names) {
  const whom = byThermometer ? "-thermometer" : "";
  /** @type {Statement[]} */
  const statements = [];
  /** @type {string[]} */
  const undecided = [];
  /** @type {number[]} */
  const agreeingK = [];
  Object.keys(standing).forEach((sensor) => {
    const { state, offK } = standing[sensor];
    if (offK === null) return;
    if (state === "stands-out") {
      const side = offK < 0 ? "colder" : "hotter";
      const figures = { sensor: names[sensor], off_k: Math.abs(offK) };
      statements.push(statement(`round.stands-out-${side}${whom}`, figures));
    } else if (state === "undecided") undecided.push(names[sensor]);
    else agreeingK.push(Math.abs(offK));
  });
  if (undecided.length) statements.push(statement("round.undecided", { names: undecided }));
  if (agreeingK.length) {
    const count = agreeingK.length;
    const whole = count === Object.keys(standing).length;
    statements.push(statement(`round.${agreeing(count, whole)}${whom}`,
      { count, most_k: Math.max(...agreeingK), centre_c: centreC }));
  }
  return statements;
}

/** @param {number} count @param {boolean} whole nobody else was read there */
function agreeing(count, whole) {
  if (count === 1) return whole ? "it-agrees" : "other-agrees";
  if (!whole) return "others-agree";
  return count === 2 ? "both-agree" : "all-agree";
}
