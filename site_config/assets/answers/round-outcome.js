// What the sensors of one place say together, and what to do next there. Mirrors
// kb/answers/round_outcome.py.

import { LIMITS } from "../catalog.js";
import { BROKEN, overRange, stepsOf } from "./round-rows.js";
import { statement } from "./statement.js";

/**
 * @typedef {import("../numbers/at-rest.js").Standing} Standing
 * @typedef {import("./statement.js").Statement} Statement
 * What the sensors of one place say together; state: within, outside or undecided; atC: what a
 * thermometer showed there; centreC: what they are held against, that or the middle of them; next:
 * with each sensor that asks for something, then with the place.
 * @typedef {{place: string, state: string, title: Statement, atC: ?number, centreC: ?number,
 *   statements: Statement[], next: Statement[]}} PlaceAnswer
 * One place, read and held; company: how many of the family rest there; meter: its name.
 * @typedef {{place: string, rows: import("./round-rows.js").RoundRow[],
 *   held: import("./round-doubt.js").PlaceRest, company: number, meter: string}} PlaceRound
 * A sensor of the place by its name.
 * @typedef {Standing & {name: string}} Named
 */

/** Outcome → its state; any other is undecided.
 * @type {Object<string, string>} */
const STATES = {
  "stands-out": "outside", "stand-out": "outside", faulty: "outside", "others-agree": "outside",
  agree: "within",
};

/** @param {PlaceRound} place @returns {PlaceAnswer} */
export function answerPlace(place) {
  const { rest } = place.held;
  const named = place.rows.map(({ sensor, name }) => ({ ...place.held.standing[sensor], name }));
  const few = fewOf(place, named);
  const outcome = outcomeOf(place, named, few);
  return {
    place: place.place, state: STATES[outcome] || "undecided", title: titleOf(outcome, named),
    atC: rest.byThermometer ? rest.centreC : null, centreC: rest.centreC,
    statements: [...byThemselves(named, place.meter), ...together(place, named, few)],
    next: [...stepsOf(place.rows), ...nextStep(place, named, { outcome, few })],
  };
}

/** @param {Named[]} named @returns {Named[]} those that read as a temperature */
const soundOf = (named) => named.filter(({ tImpliedC }) => tImpliedC !== null);

/** @param {PlaceRound} place @param {Named[]} named
 * @returns {string} why too few were read to say who is right, or nothing where they are enough */
function fewOf({ rows, held }, named) {
  const sound = soundOf(named);
  if (held.rest.byThermometer || sound.length >= LIMITS.fewest_at_rest ||
    sound.every(({ state }) => state === "agrees")) return "";
  const out = rows.find(({ keptOut }) => keptOut);
  if (out) return out.keptOut;
  return sound.length === 1 ? "one-read" : "few";
}

/** @param {PlaceRound} place @param {Named[]} named @param {string} few
 * @returns {string} its title in the catalogue has that name */
function outcomeOf({ held }, named, few) {
  const states = named.map(({ state }) => state);
  const broken = states.some((state) => BROKEN.includes(state));
  const out = states.filter((state) => state === "stands-out").length;
  if (held.doubt) return held.doubt;
  if (out) return out === 1 ? "stands-out" : "stand-out";
  if (broken && (few || !states.includes("agrees"))) return "faulty";
  if (few) return few;
  if (states.includes("undecided")) return "undecided";
  return broken ? "others-agree" : "agree";
}

/** @param {string} outcome @param {Named[]} named @returns {Statement} */
function titleOf(outcome, named) {
  const out = named.filter(({ state }) => state === "stands-out").map(({ name }) => name);
  if (outcome === "stands-out") return statement("round.title-stands-out", { sensor: out[0] });
  if (outcome === "stand-out") return statement("round.title-stand-out", { count: out.length });
  return statement(`round.title-${outcome}`);
}

/** @param {Named[]} named @param {string} instrument
 * @returns {Statement[]} who is faulty by itself or over range, whatever the others read */
function byThemselves(named, instrument) {
  return [
    ...named.filter(({ state }) => BROKEN.includes(state))
      .map(({ name, state }) => statement(`round.${state}`, { sensor: name })),
    ...named.filter(overRange)
      .map(({ name }) => statement("round.over-range", { sensor: name, instrument })),
  ];
}

/** @param {PlaceRound} place @param {Named[]} named @param {string} few
 * @returns {Statement[]} what the readings that are temperatures say of each other */
function together({ rows, held }, named, few) {
  const { rest, doubt, middleC } = held;
  const sound = soundOf(named);
  if (few === "few") return [statement("round.few")];
  if (few) {
    return sound.map(({ name, tImpliedC }) =>
      statement(`round.${few}`, { sensor: name, t_implied_c: tImpliedC }));
  }
  if (doubt === "split") {
    return [split(rows.map(({ sensor, name }) => ({ ...rest.standing[sensor], name })))];
  }
  if (doubt) {
    return [statement("round.all-but-temperature",
      { count: sound.length, centre_c: middleC, at_c: rest.centreC })];
  }
  return stand(named, rest);
}

/** Who is colder and who is hotter, and how far the two sides are apart.
 * @param {Named[]} named as the numbers have them @returns {Statement} */
function split(named) {
  const out = named.filter(({ state }) => state === "stands-out");
  const colder = out.filter(({ offK }) => offK !== null && offK < 0);
  const hotter = out.filter((stands) => !colder.includes(stands));
  return statement("round.split", {
    colder: colder.map(({ name }) => name), hotter: hotter.map(({ name }) => name),
    apart_k: Math.min(...hotter.map(({ offK }) => offK || 0)) -
      Math.max(...colder.map(({ offK }) => offK || 0)),
  });
}

/** @param {Named[]} named @param {import("./round-doubt.js").AtRest} rest
 * @returns {Statement[]} who stands out, who is not decided and who agrees */
function stand(named, { byThermometer, centreC }) {
  const whom = byThermometer ? "-thermometer" : "";
  /** @type {Statement[]} */
  const statements = [];
  /** @type {string[]} */
  const undecided = [];
  /** @type {number[]} */
  const agreeingK = [];
  named.forEach(({ name, state, offK }) => {
    if (offK === null) return;
    if (state === "stands-out") {
      const side = offK < 0 ? "colder" : "hotter";
      statements.push(statement(`round.stands-out-${side}${whom}`,
        { sensor: name, off_k: Math.abs(offK) }));
    } else if (state === "undecided") undecided.push(name);
    else agreeingK.push(Math.abs(offK));
  });
  if (undecided.length) statements.push(statement("round.undecided", { names: undecided }));
  if (agreeingK.length) {
    const count = agreeingK.length;
    statements.push(statement(`round.${agreeing(count, count === named.length)}${whom}`,
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

/** The place's own next step, beside those of its sensors.
 * @param {PlaceRound} place @param {Named[]} named @param {{outcome: string, few: string}} found
 * @returns {Statement[]} */
function nextStep({ rows, held, company }, named, { outcome, few }) {
  if (few === "alone" || few === "no-place") {
    return [statement("round.next-alone", { sensor: rows[0].name })];
  }
  if (few) {
    const enough = soundOf(named).length + company - rows.length >= LIMITS.fewest_at_rest;
    return [statement(enough ? "round.next-read-more" : "round.next-temperature")];
  }
  if (held.doubt) {
    const again = held.doubt === "temperature" ? "-again" : "";
    return [statement(`round.next-temperature${again}`)];
  }
  if (rows.some(({ state, next }) => state === "undecided" && !next)) {
    return [statement("round.next-undecided")];
  }
  return outcome === "agree" ? [statement("round.next-agree")] : [];
}
