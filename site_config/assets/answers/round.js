// A round of readings of a machine at rest: who agrees, who stands out, what follows? Mirrors
// kb/answers/round.py.

import { LIMITS } from "../catalog.js";
import { atRest } from "../numbers/at-rest.js";
import { exchanged } from "../numbers/exchanged.js";
import { taken } from "../numbers/instruments.js";
import { answerPlace, faulty, whyKeptOut } from "./round-places.js";
import { refusedRow, restedRow } from "./round-rows.js";
import { Refusal, statement } from "./statement.js";
import { take } from "./tools.js";
import { typedReadingOhm, typedTemperature } from "./typed.js";

/**
 * @typedef {import("./statement.js").Statement} Statement
 * @typedef {import("./round-places.js").AtRest} AtRest
 * @typedef {import("./round-places.js").RestingSensor} RestingSensor
 * @typedef {import("./round-rows.js").RestedReading} RestedReading
 * @typedef {import("./round-rows.js").RoundRow} RoundRow
 * @typedef {import("../numbers/at-rest.js").Resting} Resting
 * @typedef {import("../numbers/at-rest.js").Standing} Standing
 * The sensors of one machine that can take part, and what was typed for them; at: what a
 * thermometer shows where the machine rests, with it they are held against that.
 * @typedef {{sensors: RestingSensor[], readings: import("./round-rows.js").RoundReading[],
 *   tools: import("./tools.js").Tools, at?: string, unit?: string,
 *   shortOhm?: ?number}} RoundQuestion
 * faulty: who is so by itself though held against nobody; exchanged: ids of sensors that would
 * both agree if each had the other's reading; against: what they were held against.
 * @typedef {{unit: string, atC: ?number, rows: RoundRow[],
 *   places: import("./round-places.js").PlaceAnswer[], faulty: Statement[],
 *   exchanged: string[][], exchange: ?Statement, against: Statement[],
 *   cautions: string[]}} RoundAnswer
 * The thermometer that all are held against, if there is one.
 * @typedef {{tC: ?number, halfK: number, unit: string}} Reference
 */

/** What stands under every round, by id. */
const CAUTIONS = ["sensor-unplugged", "maker-first"];

/** @param {RoundQuestion} question @returns {RoundAnswer} a reading that cannot be read is refused in
 *   its row
 * @throws {Refusal} the round's own temperature cannot be read, or the thermometer does not reach it */
export function answerRound(question) {
  const { sensors, readings, tools, unit = "C", shortOhm = null } = question;
  const reference = referenceOf(question);
  const byThermometer = reference.tC !== null;
  const { refused, read } = readAll(question, byThermometer);
  const { rests, keptOut, standing, pairs } = held(read, reference, shortOhm);
  const how = { tools, unit, shortOhm, byThermometer };
  const rows = [...refused,
    ...read.map((reading) => restedRow(reading, { standing: standing[reading.sensor.id], how }))];
  const meter = tools.meter ? tools.meter.name : "";
  /** @type {Object<string, string>} */
  const names = {};
  sensors.forEach(({ id, name }) => { names[id] = name; });
  const places = Object.keys(rests).sort();
  return {
    unit: reference.unit, atC: reference.tC,
    rows: readings.reduce((/** @type {RoundRow[]} */ found, { sensor }) =>
      found.concat(rows.filter((row) => row.sensor === sensor)), []),
    places: places.map((place) => answerPlace(place, { names, rest: rests[place], meter })),
    faulty: faulty(keptOut, names),
    exchanged: pairs, exchange: exchange(pairs, names),
    against: places.length ? against(tools, reference) : [],
    cautions: CAUTIONS,
  };
}

/** @param {RoundQuestion} question @returns {Reference} */
function referenceOf({ at = "", unit = "C", tools }) {
  if (!at.trim()) return { tC: null, halfK: 0, unit };
  const typed = typedTemperature(at, { field: "at", unit });
  const halfK = take(tools, 0, { tC: typed.tC }).thermometerHalfK;
  return { tC: typed.tC, halfK, unit: typed.unit };
}

/** @param {RoundQuestion} question @param {boolean} byThermometer
 * @returns {{refused: RoundRow[], read: RestedReading[]}} */
function readAll({ sensors, readings, tools }, byThermometer) {
  /** @type {RoundRow[]} */
  const refused = [];
  /** @type {RestedReading[]} */
  const read = [];
  readings.forEach((typed) => {
    const sensor = sensors.find(({ id }) => id === typed.sensor);
    if (!sensor || !typed.reading.trim()) return;
    try {
      const shownOhm = typedReadingOhm(typed.reading, { field: "reading" });
      const inIce = typed.elsewhere && typed.placement === "ice-water";
      const keptOut = inIce ? "ice-water" : whyKeptOut(sensor, sensors, { byThermometer });
      read.push({ sensor, typed, shownOhm, resting: restingOf(sensor, shownOhm, tools), keptOut });
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      refused.push(refusedRow(sensor, error.statement));
    }
  });
  return { refused, read };
}

/** Only the meter's part counts here: the places of a resting machine have their own.
 * @param {RestingSensor} sensor @param {number} shownOhm @param {import("./tools.js").Tools} tools
 * @returns {Resting} */
function restingOf({ curve, allowK = 0 }, shownOhm, { meter }) {
  const { rOhm, meterHalfOhm, meterSpanOhm } = taken(shownOhm,
    { tC: curve.lowC, meter: meter && meter.meter });
  return { grid: curve, rOhm, meterHalfOhm, meterSpanOhm, allowK };
}

/** Hold each place's sensors against each other, and who is kept out against nobody.
 * @param {RestedReading[]} read @param {Reference} reference @param {?number} shortOhm
 * @returns {{rests: Object<string, AtRest>, keptOut: Object<string, Standing>,
 *   standing: Object<string, Standing>, pairs: string[][]}} */
function held(read, { tC, halfK }, shortOhm) {
  const options = { tC, thermometerHalfK: halfK, shortOhm };
  /** @type {Object<string, Object<string, Resting>>} */
  const resting = {};
  /** @type {Object<string, Standing>} */
  const keptOut = {};
  read.forEach(({ sensor: { id, place = "" }, resting: reading, keptOut: why }) => {
    if (why) Object.assign(keptOut, atRest({ [id]: reading }, { shortOhm }).standing);
    else resting[place] = { ...resting[place], [id]: reading };
  });
  const places = Object.keys(resting).sort();
  /** @type {Object<string, AtRest>} */
  const rests = {};
  places.forEach((place) => { rests[place] = atRest(resting[place], options); });
  const among = places.map((place) => rests[place].standing);
  return {
    rests, keptOut, standing: Object.assign({}, keptOut, ...among),
    pairs: exchanged(places.map((place) => resting[place]), options),
  };
}

/** @param {string[][]} pairs @param {Object<string, string>} names @returns {?Statement} */
function exchange(pairs, names) {
  if (!pairs.length) return null;
  return statement("round.exchanged", {
    names: pairs.map(([first, second]) =>
      statement("round.pair", { first: names[first], second: names[second] })),
  });
}

/** @param {import("./tools.js").Tools} tools @param {Reference} reference @returns {Statement[]} */
function against({ thermometer }, { tC }) {
  const spread = statement("round.spread", { spread_k: LIMITS.spread_half_k });
  if (tC === null) return [statement("round.against-middle"), spread];
  const instrument = thermometer ? thermometer.name : "";
  return [statement("round.against-thermometer", { instrument, at_c: tC }), spread];
}
