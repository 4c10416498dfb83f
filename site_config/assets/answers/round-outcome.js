// What the sensors of one place say together, and what to do next there. Mirrors
// kb/answers/round_outcome.py.

import { LIMITS } from "../catalog.js";
import { BROKEN, NAMED, overRange, stepsOf } from "./round-rows.js";
import { statement } from "./statement.js";

/**
 * @typedef {import("../numbers/machine-standing.js").Standing} Standing
 * @typedef {import("../numbers/machine-standing.js").PlaceStanding} PlaceStanding
 * @typedef {import("./statement.js").Statement} Statement
 * What the sensors of one place say together; outcome: its title has that name; state: within,
 * outside or undecided; atC: what a thermometer showed there; centreC: how warm it is there by all;
 * next: with each sensor that asks for something, then with the place.
 * @typedef {{place: string, outcome: string, state: string, title: Statement, atC: ?number,
 *   centreC: ?number, statements: Statement[], next: Statement[]}} PlaceAnswer
 * One place, read and held; company: how many of the family rest there; meter: its name.
 * @typedef {{place: string, rows: import("./round-rows.js").RoundRow[], held: PlaceStanding,
 *   atC: ?number, company: number, meter: string}} PlaceRound
 * A sensor of the place by its name.
 * @typedef {Standing & {name: string, sensor: string}} Named
 */

/** Outcome → its state; any other is undecided.
 * @type {Object<string, string>} */
const STATES = {
  "stands-out": "outside", "stand-out": "outside", faulty: "outside", "others-agree": "outside",
  agree: "within",
};

/** @param {PlaceRound} place @returns {PlaceAnswer} */
export function answerPlace(place) {
  const { held } = place;
  const named = place.rows.map(({ sensor, name }) => ({ ...held.standing[sensor], name, sensor }));
  const few = fewOf(place, named);
  const outcome = outcomeOf(place, named, few);
  return {
    place: place.place, outcome, state: STATES[outcome] || "undecided",
    title: titleOf(outcome, named), atC: place.atC, centreC: held.centreC,
    statements: [...byThemselves(named, place.meter), ...together(place, named, few)],
    next: [...stepsOf(place.rows), ...nextStep(place, named, { outcome, few })],
  };
}

/** @param {Named[]} named @returns {Named[]} those that read as a temperature */
const soundOf = (named) => named.filter(({ tImpliedC }) => tImpliedC !== null);

/** @param {Named[]} named @param {string} asked @returns {string[]} names of those that stand so */
const inState = (named, asked) =>
  named.filter(({ state }) => state === asked).map(({ name }) => name);

/** @param {PlaceRound} place @param {Named[]} named
 * @returns {string} why the one that was read is held against nothing, or nothing */
function fewOf({ rows, atC }, named) {
  const sound = soundOf(named);
  if (atC !== null || sound.length !== 1 || sound[0].state !== "undecided") return "";
  const out = rows.find(({ keptOut }) => keptOut);
  return out ? out.keptOut : "one-read";
}

/** @param {PlaceRound} place @param {Named[]} named @param {string} few
 * @returns {string} its title in the catalogue has that name */
function outcomeOf({ held }, named, few) {
  const states = named.map(({ state }) => state);
  const broken = states.some((state) => BROKEN.includes(state));
  const out = inState(named, "stands-out").length;
  if (held.doubtful) return "temperature";
  if (out) return out === 1 ? "stands-out" : "stand-out";
  if (states.includes("exchanged")) return "exchanged";
  if (states.includes("suspicious")) return "suspicious";
  if (broken && (few || !states.includes("agrees") || states.includes("undecided"))) return "faulty";
  if (held.split) return "split";
  if (few) return few;
  if (states.includes("undecided")) return "undecided";
  return broken ? "others-agree" : "agree";
}

/** @param {string} outcome @param {Named[]} named @returns {Statement} */
function titleOf(outcome, named) {
  const out = inState(named, outcome === "stand-out" ? "stands-out" : outcome);
  if (outcome === "stands-out") return statement("round.title-stands-out", { sensor: out[0] });
  if (outcome === "stand-out") return statement("round.title-stand-out", { count: out.length });
  if (outcome === "suspicious") return statement("round.title-suspicious", { names: out });
  if (outcome === "faulty" || outcome === "others-agree") {
    const names = named.filter(({ state }) => BROKEN.includes(state)).map(({ name }) => name);
    return statement(`round.title-${outcome}`, { names });
  }
  if (outcome === "exchanged") return statement("round.title-exchanged", { names: out });
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
function together({ held, atC }, named, few) {
  const sound = soundOf(named);
  if (few) {
    return sound.map(({ name, tImpliedC }) =>
      statement(`round.${few}`, { sensor: name, t_implied_c: tImpliedC }));
  }
  const statements = sound.filter(({ state, offK }) => NAMED.includes(state) && offK !== null)
    .map(({ name, state, offK, uncertaintyK }) => {
      const off = offK || 0;
      return statement(`round.${state}-${off < 0 ? "colder" : "hotter"}`,
        { sensor: name, off_k: Math.abs(off), uncertainty_k: uncertaintyK });
    });
  if (held.doubtful) {
    return [statement("round.all-but-temperature", { centre_c: held.centreC, at_c: atC }), ...statements];
  }
  return [...statements, ...splitSaid(held, named), ...rest(held, named, atC)];
}

/** The two explanations, and how warm it would be there by each.
 * @param {PlaceStanding} held @param {Named[]} named @returns {Statement[]} */
function splitSaid({ split }, named) {
  if (!split) return [];
  const called = (/** @type {string[]} */ sensors) => sensors.map((id) =>
    named.filter(({ sensor }) => sensor === id).map(({ name }) => name)[0] ||
      statement("round.thermometer"));
  return [statement("round.split", {
    first: called(split.first), first_c: split.firstC,
    second: called(split.second), second_c: split.secondC,
  })];
}

/** @param {PlaceStanding} held @returns {string[]} those of either group of a split */
export const tornOf = ({ split }) => (split ? split.first.concat(split.second) : []);

/** @param {PlaceStanding} held @param {Named[]} named @param {?number} atC
 * @returns {Statement[]} who is not decided, and who agrees within what */
function rest(held, named, atC) {
  const [torn, { centreC }] = [tornOf(held), held];
  const sound = soundOf(named);
  const undecided = sound.filter(({ state, sensor }) => state === "undecided" && !torn.includes(sensor))
    .map(({ name }) => name);
  const agreeingC = sound.filter(({ state }) => state === "agrees").map(({ tImpliedC }) => tImpliedC || 0);
  const count = agreeingC.length;
  const whole = count === named.length && (atC !== null || count > 1);
  return [
    ...(undecided.length ? [statement("round.undecided", { names: undecided })] : []),
    ...(count ? [statement(`round.${agreeing(count, whole)}`, {
      count, within_k: Math.max(...agreeingC) - Math.min(...agreeingC), centre_c: centreC,
      ...(atC === null ? {} : { at_c: atC }),
    })] : []),
  ];
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
function nextStep({ rows, held, company, atC }, named, { outcome, few }) {
  const unread = company - rows.length;
  if (few && rows.some(({ next }, i) => next && named[i].tImpliedC !== null)) return [];
  if (few === "alone" || few === "no-place") {
    return [statement("round.next-alone", { sensor: rows[0].name })];
  }
  if (few) {
    const enough = soundOf(named).length + unread >= LIMITS.fewest_at_rest;
    return [statement(enough ? "round.next-read-more" : "round.next-temperature")];
  }
  if (held.doubtful) return [statement("round.next-temperature-again")];
  const { beside = "" } = held.split || {};
  if (beside) {
    const more = unread && atC === null ? "-or-read" : "";
    const [tells] = named.filter(({ sensor }) => sensor === beside);
    return [statement(`round.next-tell${more}`, { sensor: tells.name })];
  }
  if (rows.some(({ state, next }) => state === "undecided" && !next)) {
    return [statement("round.next-undecided")];
  }
  return outcome === "agree" ? [statement("round.next-agree")] : [];
}
