// One sensor of a round: its reading as typed, how it stands, and what to do with it next. Mirrors
// kb/answers/round_rows.py.

import { INSTRUCTIONS, LIMITS } from "../catalog.js";
import { ohmDigits } from "../numbers/ohm-digits.js";
import { placeKey } from "./round-places.js";
import { statement } from "./statement.js";

/**
 * @typedef {import("./statement.js").Statement} Statement
 * @typedef {import("../numbers/machine-standing.js").Standing} Standing
 * @typedef {import("./round-places.js").RestingSensor} RestingSensor
 * What was typed for one sensor; nothing leaves it out.
 * @typedef {{sensor: string, reading: string}} RoundReading
 * One sensor of the round; place: its key; state: nothing where it is held against nobody and not
 * faulty by itself; keptOut: why it is so, no-place, alone or nothing; readsAs: which temperature;
 * digits: of ohms that tell what a kelvin needs on its curve; beside: how far from its place, or
 * why held against nobody; next: what to do with this very sensor; instruction: the entry's field
 * that says so; refusal: why its reading cannot be taken.
 * @typedef {{sensor: string, name: string, place: string, shownOhm: ?number, digits: number, state: string,
 *   standing: ?Standing, keptOut: string, readsAs: ?Statement, beside: Statement[],
 *   next: ?Statement, instruction: string, refusal: ?Statement}} RoundRow
 * A reading that could be read, ready to be held against others.
 * @typedef {{sensor: RestingSensor, shownOhm: number,
 *   resting: import("../numbers/at-rest.js").Resting, keptOut: string}} RestedReading
 * How one reading stands; meter: its name; pairs: which plugs may be exchanged, where this one's is
 * among them; torn: it is of one of two groups.
 * @typedef {{standing: Standing, meter: string, pairs: ?Statement, torn: boolean}} HeldReading
 */

/** Standings of a sensor that is faulty by itself. */
export const BROKEN = ["open", "short", "off-curve"];
/** Standings of a sensor that is surely not what its place is. */
export const NAMED = ["stands-out", "suspicious"];
/** Standing → what to do next with that sensor.
 * @type {Object<string, string>} */
const NEXT_BY_STANDING = {
  "stands-out": "round.next-judge", suspicious: "round.next-judge", "off-curve": "round.next-off-curve",
  open: "round.next-open", short: "round.next-short",
};
/** Standing → the verdict whose instruction holds for it.
 * @type {Object<string, string>} */
const INSTRUCTED_AS = { "stands-out": "outside", suspicious: "undecided" };

/** @param {Standing} standing @returns {boolean} over range, which a good part may be */
export const overRange = ({ state, tImpliedC }) => state === "undecided" && tImpliedC === null;

/** @param {RestingSensor} sensor @param {Statement} refusal
 * @returns {RoundRow} of a reading that cannot be read */
export function refusedRow(sensor, refusal) {
  return {
    sensor: sensor.id, name: sensor.name, place: placeKey(sensor), shownOhm: null,
    digits: ohmDigits(sensor.curve), state: "", standing: null, keptOut: "", readsAs: null, beside: [],
    next: null, instruction: "", refusal,
  };
}

/** @param {RestedReading} read @param {HeldReading} held @returns {RoundRow} */
export function restedRow(read, held) {
  const { sensor, shownOhm, keptOut } = read;
  const { standing, pairs } = held;
  const state = keptOut && standing.tImpliedC !== null ? "" : standing.state;
  // Exchanged plugs explain what no part has to be replaced for.
  const fields = pairs ? [] : INSTRUCTIONS[INSTRUCTED_AS[state] || state] || [];
  const { instructions = [] } = sensor;
  return {
    sensor: sensor.id, name: sensor.name, place: placeKey(sensor), shownOhm,
    digits: ohmDigits(sensor.curve), state, standing, keptOut,
    readsAs: standing.tImpliedC === null ? null
      : statement("round.row-reads", { t_implied_c: standing.tImpliedC }),
    beside: besideOf(read, held),
    next: nextOf(sensor, state, held),
    instruction: fields.find((field) => instructions.includes(field)) || "",
    refusal: null,
  };
}

/** @param {RoundRow[]} rows
 * @returns {Statement[]} what to do with them; what is asked for two of them is asked once */
export function stepsOf(rows) {
  const written = new Set();
  return rows.reduce((/** @type {Statement[]} */ steps, { next }) => {
    if (!next || written.has(JSON.stringify(next))) return steps;
    written.add(JSON.stringify(next));
    return steps.concat(next);
  }, []);
}

/** @param {string[][]} pairs @param {Object<string, string>} names @returns {Statement[]} */
export const pairsExchanged = (pairs, names) => pairs.map(([first, second]) =>
  statement("round.pair", { first: names[first], second: names[second] }));

/** @param {RestingSensor} sensor @param {string} state @param {HeldReading} held
 * @returns {?Statement} */
function nextOf({ name }, state, { standing, pairs }) {
  if (pairs) return pairs;
  if (overRange(standing)) return statement("round.next-over-range", { sensor: name });
  return NEXT_BY_STANDING[state] ? statement(NEXT_BY_STANDING[state], { sensor: name }) : null;
}

/** How far it is from its place, or why it is held against nobody.
 * @param {RestedReading} read @param {HeldReading} held @returns {Statement[]} */
function besideOf({ keptOut }, { standing, meter, torn }) {
  const beyond = overRange(standing)
    ? [statement("round.row-over-range", { instrument: meter })] : [];
  if (keptOut) return [statement(`round.row-${keptOut}`), ...beyond];
  const { offK } = standing;
  if (offK === null) return beyond;
  if (torn) return [statement("round.row-torn")];
  if (Math.abs(offK) < LIMITS.middle_k) return [statement("round.row-middle")];
  const side = offK < 0 ? "colder" : "hotter";
  return [statement(`round.row-${side}`,
    { off_k: Math.abs(offK), uncertainty_k: standing.uncertaintyK })];
}
