// A round of readings of a machine at rest: who agrees, who stands out, what follows? Mirrors
// kb/answers/round.py.

import { LIMITS } from "../catalog.js";
import { taken } from "../numbers/instruments.js";
import { SURE_AT_REST, machineStanding } from "../numbers/machine-standing.js";
import { DRIFTED_SHARE } from "../numbers/place-at-rest.js";
import { roundFirst } from "./round-first.js";
import { answerPlace, tornOf } from "./round-outcome.js";
import {
  OWN_PLACE, company, placeKey, placeReference, spreadHalfK, whyKeptOut,
} from "./round-places.js";
import { pairsExchanged, refusedRow, restedRow } from "./round-rows.js";
import { Refusal, statement } from "./statement.js";
import { typedReadingOhm } from "./typed.js";

/**
 * @typedef {import("./statement.js").Statement} Statement
 * @typedef {import("../numbers/machine-standing.js").MachineStanding} MachineStanding
 * @typedef {import("../numbers/machine-standing.js").PlaceStanding} PlaceStanding
 * @typedef {import("./round-places.js").PlaceReference} PlaceReference
 * @typedef {import("./round-places.js").RestingSensor} RestingSensor
 * @typedef {import("./round-rows.js").RestedReading} RestedReading
 * @typedef {import("./round-rows.js").RoundRow} RoundRow
 * @typedef {import("../numbers/at-rest.js").Resting} Resting
 * The sensors of one machine that can take part, and what was typed for them; temperatures: the
 * readings of a place are held against its own and no other.
 * @typedef {{sensors: RestingSensor[], readings: import("./round-rows.js").RoundReading[],
 *   tools: import("./tools.js").Tools,
 *   temperatures?: import("./round-places.js").PlaceTemperature[], unit?: string,
 *   shortOhm?: ?number}} RoundQuestion
 * first: what to do first, null where nothing could be read; places: each where something was read,
 * by name, those of one sensor alone last; exchanged: ids of sensors whose plugs are, or may be;
 * exchangedSure: one such pair surely is; against: what they were held against.
 * @typedef {{unit: string, first: ?import("./round-first.js").RoundFirst,
 *   temperatures: PlaceReference[], rows: RoundRow[],
 *   places: import("./round-outcome.js").PlaceAnswer[], exchanged: string[][],
 *   exchangedSure: boolean, exchange: ?Statement, against: Statement[],
 *   cautions: string[]}} RoundAnswer
 * Of the places that have one.
 * @typedef {Object<string, PlaceReference>} Measured
 */

/** What stands under every round, by id. */
const CAUTIONS = ["sensor-unplugged", "maker-first"];

/** @param {RoundQuestion} question @returns {RoundAnswer} a reading that cannot be read is refused in
 *   its row, a temperature in its place */
export function answerRound(question) {
  const { sensors, readings, temperatures = [], tools, unit = "C", shortOhm = null } = question;
  const references = temperatures.filter(({ at }) => at.trim())
    .map((typed) => placeReference(typed, { tools, unit }));
  /** @type {Measured} */
  const measured = {};
  references.forEach((found) => { if (found.tC !== null) measured[found.place] = found; });
  const { refused, read } = readAll(question, measured);
  const byPlaces = byPlace(read);
  const keys = Object.keys(byPlaces);
  const machine = standingOfAll(byPlaces, measured, shortOhm);
  /** @type {Object<string, PlaceStanding>} */
  const rests = {};
  keys.forEach((place, i) => { rests[place] = machine.places[i]; });
  const { exchanged: pairs, exchangedSure: sure } = machine;
  const meter = tools.meter ? tools.meter.name : "";
  const exchange = pairsSaid("round.next-exchanged", pairs, sensors);
  const rows = [...refused, ...rowsOf(read, { rests, meter, pairs, exchange })];
  const places = keys.map((place) => answerPlace({
    place, held: rests[place], atC: measured[place] ? measured[place].tC : null,
    company: company(place, sensors), meter,
    rows: rows.filter((row) => row.place === place && row.standing !== null),
  }));
  return {
    unit: references.length ? references[0].unit : unit,
    first: roundFirst(places, { exchange, sure }),
    temperatures: references,
    rows: readings.reduce((/** @type {RoundRow[]} */ found, { sensor }) =>
      found.concat(rows.filter((row) => row.sensor === sensor)), []),
    places, exchanged: pairs, exchangedSure: sure,
    exchange: pairsSaid(sure ? "round.exchanged" : "round.perhaps-exchanged", pairs, sensors),
    against: against(question, rests),
    cautions: CAUTIONS,
  };
}

/** @param {RoundQuestion} question @param {Measured} measured
 * @returns {{refused: RoundRow[], read: RestedReading[]}} */
function readAll({ sensors, readings, tools }, measured) {
  /** @type {RoundRow[]} */
  const refused = [];
  /** @type {RestedReading[]} */
  const read = [];
  readings.forEach((typed) => {
    const sensor = sensors.find(({ id }) => id === typed.sensor);
    if (!sensor || !typed.reading.trim()) return;
    try {
      const shownOhm = typedReadingOhm(typed.reading, { field: "reading" });
      read.push({
        sensor, shownOhm, resting: restingOf(sensor, shownOhm, tools),
        keptOut: whyKeptOut(sensor, sensors, { measured: placeKey(sensor) in measured }),
      });
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      refused.push(refusedRow(sensor, error.statement));
    }
  });
  return { refused, read };
}

/** Only the meter's part counts here: the spots of a place have their own.
 * @param {RestingSensor} sensor @param {number} shownOhm @param {import("./tools.js").Tools} tools
 * @returns {Resting} */
function restingOf({ curve, allowK = 0 }, shownOhm, { meter }) {
  const { rOhm, meterHalfOhm, meterSpanOhm } = taken(shownOhm,
    { tC: curve.lowC, meter: meter && meter.meter });
  return { grid: curve, rOhm, meterHalfOhm, meterSpanOhm, allowK };
}

/** @param {RestedReading[]} read
 * @returns {Object<string, Object<string, Resting>>} by name, those of one sensor alone last */
function byPlace(read) {
  /** @type {Object<string, Object<string, Resting>>} */
  const places = {};
  const keys = read.map(({ sensor }) => placeKey(sensor)).sort();
  const own = (/** @type {string} */ place) => place.startsWith(OWN_PLACE);
  [...keys.filter((place) => !own(place)), ...keys.filter(own)]
    .forEach((place) => { places[place] = {}; });
  read.forEach(({ sensor, resting }) => { places[placeKey(sensor)][sensor.id] = resting; });
  return places;
}

/** @param {Object<string, Object<string, Resting>>} places @param {Measured} measured
 * @param {?number} shortOhm @returns {MachineStanding} */
function standingOfAll(places, measured, shortOhm) {
  return machineStanding(Object.keys(places).map((place) => ({
    readings: places[place],
    tC: measured[place] ? measured[place].tC : null,
    thermometerHalfK: measured[place] ? measured[place].halfK : 0,
    spreadHalfK: spreadHalfK(place),
  })), { shortOhm });
}

/** @param {RestedReading[]} read
 * @param {{rests: Object<string, PlaceStanding>, meter: string, pairs: string[][],
 *   exchange: ?Statement}} found @returns {RoundRow[]} */
function rowsOf(read, { rests, meter, pairs, exchange }) {
  return read.map((reading) => {
    const { id } = reading.sensor;
    const rest = rests[placeKey(reading.sensor)];
    const standing = rest.standing[id];
    const torn = standing.state === "undecided" && tornOf(rest).includes(id);
    // Who agrees as it is has nothing to explain, and one temperature tells of two groups.
    const paired = standing.state !== "agrees" && !torn && pairs.some((pair) => pair.includes(id));
    return restedRow(reading, { standing, meter, pairs: paired ? exchange : null, torn });
  });
}

/** @param {string} id @param {string[][]} pairs @param {RestingSensor[]} sensors
 * @returns {?Statement} */
function pairsSaid(id, pairs, sensors) {
  if (!pairs.length) return null;
  /** @type {Object<string, string>} */
  const names = {};
  sensors.forEach((sensor) => { names[sensor.id] = sensor.name; });
  return statement(id, { names: pairsExchanged(pairs, names) });
}

/** A sensor that is held against nobody says so itself.
 * @param {RoundQuestion} question @param {Object<string, PlaceStanding>} rests @returns {Statement[]} */
function against({ sensors, tools: { thermometer } }, rests) {
  const byThermometer = (/** @type {string} */ place) => rests[place].byThermometer;
  const held = Object.keys(rests)
    .filter((place) => byThermometer(place) || company(place, sensors) > 1);
  const instrument = thermometer ? thermometer.name : "";
  return [
    ...(held.some(byThermometer) ? [statement("round.against-thermometer", { instrument })] : []),
    ...(held.some((place) => !byThermometer(place)) ? [statement("round.against-each-other")] : []),
    ...(held.some((place) => spreadHalfK(place) > 0) ? [statement("round.taken", {
      spread_k: LIMITS.spread_half_k, drifted_share: DRIFTED_SHARE, sure_share: SURE_AT_REST,
    })] : []),
  ];
}
