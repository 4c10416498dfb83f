// A part's windings as read: equal to each other, and what its entry gives? Mirrors
// kb/answers/winding.py.

import { LIMITS } from "../catalog.js";
import { meterBesideOhm, meterDigitOhm, meterHalfOhm } from "../numbers/instruments.js";
import { uncertainWindings } from "../numbers/winding-phases.js";
import { windingBalance } from "../numbers/winding.js";
import { Refusal, statement } from "./statement.js";
import { typedTemperature } from "./typed.js";
import { windingsSolved } from "./winding-faults.js";
import { contactLeads, windingHeadline } from "./winding-headline.js";
import {
  contactFirst, contactNotes, solvedNote, windingAdvice, windingNotes,
} from "./winding-notes.js";
import { mostOhm, readWinding } from "./winding-reading.js";
import { isUnnamed, typedWindings } from "./winding-typed.js";
import { factsByNumber, leadNames, leadsFound } from "./winding-unnamed.js";

/**
 * @typedef {import("./statement.js").Statement} Statement
 * @typedef {import("./winding-reading.js").WindingFacts} WindingFacts
 * @typedef {import("./winding-reading.js").WindingReading} WindingReading
 * What was typed: a pair with nothing typed is not read; leads zeroed, or their reading taken off.
 * at: empty for no temperature, then balance is judged, and what holds at every temperature.
 * @typedef {{part: WindingFacts, readings: Array<[string, string]>, at?: string, unit?: string,
 *   meter: import("./tools.js").NamedMeter, kit?: import("./tools.js").Kit}} WindingQuestion
 * @typedef {{state: string, unit: string, tC: ?number, pairs: Object<string, WindingReading>,
 *   balances: Array<ReturnType<typeof windingBalance>>, solvedOhm: Object<string, number>,
 *   solvedUOhm: Object<string, number>, unread: string[], names: ?Statement, headline: Statement,
 *   read: Statement, notes: Statement[],
 *   better: import("./tools.js").Way[], advice: Statement[]}} WindingAnswer
 *   state: the worst of all, nothing where the entry gives no limit; balances: one for each set of
 *   equal windings of which two or more read a figure; better: meters that read these leads closer
 */

const WORST_FIRST = ["open", "short", "outside", "undecided", "within"];

/** @param {WindingQuestion} question @returns {WindingAnswer}
 * @throws {Error} Refusal: nothing typed, a field unreadable, or no winding is judged so cold or hot */
export function answerWindings(question) {
  const { meter: { meter, name }, readings } = question;
  const { read, refusals } = typedWindings(question.part, question);
  if (refusals.length) throw refusals[0];
  if (!Object.keys(read).length) {
    throw new Refusal(statement("winding.nothing-read"), { missing: true });
  }
  const { tC, unit } = temperatureIn(question);
  const unnamed = isUnnamed(question.part, readings);
  const part = unnamed ? factsByNumber(question.part, read) : question.part;
  const found = leadsFound(read, meter);
  /** @type {Object<string, WindingReading>} */
  const pairs = {};
  /** @type {Object<string, number>} */
  const ohms = {};
  Object.keys(read).forEach((pair) => {
    pairs[pair] = readWinding(part, { pair, repeated: read[pair], meter, tC });
    ohms[pair] = pairs[pair].rOhm;
  });
  const balances = balancesOf(part, pairs, { meter, tC });
  const state = worst(pairs, balances);
  const unread = Object.keys(part.pairs).filter((pair) => !(pair in read));
  const loose = contactLeads(pairs, balances);
  const better = state === "undecided" && !loose ? betterMeters(question, part, pairs, tC) : [];
  const solvedOhm = windingsSolved(part, ohms);
  const solvedUOhm = Object.keys(solvedOhm).length
    ? uncertainWindings(ohms, besideHalvesOhm(pairs, meter), (readOhm) => windingsSolved(part, readOhm))
    : {};
  return {
    state, unit, tC, pairs, balances, solvedOhm, solvedUOhm, unread,
    names: unnamed ? leadNames(question.part, found) : null,
    headline: windingHeadline(part, { state, pairs, balances, tC, meter: name }),
    read: statement("winding.read", { instrument: name }),
    notes: [
      ...(unnamed && found ? [statement("winding.names-rule")] : []),
      ...solvedNote(solvedOhm, solvedUOhm, part.connection),
      ...windingNotes(part, {
        balanced: balances.length > 0, tC,
        waits: Object.keys(pairs).some((pair) => pairs[pair].state === ""),
      }),
      ...contactNotes(part, pairs, balances),
    ],
    better,
    advice: [
      ...contactFirst(part, pairs, found),
      ...windingAdvice(part, { state, better: better.length > 0 || loose, unread }),
    ],
  };
}

/** One that was held against nothing: that another is right is no answer on all of them.
 * @param {Object<string, WindingReading>} pairs @param {WindingAnswer["balances"]} balances */
function worst(pairs, balances) {
  const own = Object.keys(pairs).map((pair) => pairs[pair].state);
  const states = [...own.filter((state) => state !== "within" || !own.includes("")),
    ...balances.map((balance) => balance.state)];
  return WORST_FIRST.find((worse) => states.includes(worse)) || "";
}

/** @param {WindingQuestion} question
 * @returns {Array<import("./statement.js").Refusal>} every reading refused, its leads the field */
export const windingRefusals = (question) => typedWindings(question.part, question).refusals;

/** @param {WindingQuestion} question @returns {{tC: ?number, unit: string}} */
function temperatureIn({ at = "", unit = "C" }) {
  if (!at.trim()) return { tC: null, unit };
  const typed = typedTemperature(at, { field: "at", unit });
  const { winding_coldest_c: lowC, winding_hottest_c: highC } = LIMITS;
  if (!(typed.tC >= lowC && typed.tC <= highC)) {
    throw new Refusal(statement(`winding.too-${typed.tC > highC ? "hot" : "cold"}`,
      { t_c: typed.tC, low_c: lowC, high_c: highC }), { field: "at" });
  }
  return typed;
}

/** Windings of the same value against each other, where two or more read a figure.
 * @param {WindingFacts} part @param {Object<string, WindingReading>} pairs
 * @param {{meter: import("../numbers/instruments.js").Meter, tC: ?number}} how */
function balancesOf(part, pairs, { meter, tC }) {
  const values = Object.keys(part.pairs).map((pair) => part.pairs[pair]);
  return values.filter((valueOhm, i) => values.indexOf(valueOhm) === i)
    .map((valueOhm) => Object.keys(pairs).filter((pair) =>
      part.pairs[pair] === valueOhm && pairs[pair].rOhm > 0 && pairs[pair].rOhm < Infinity))
    .filter((equal) => equal.length > 1)
    .map((equal) => {
      /** @type {Object<string, WindingReading>} */
      const own = {};
      /** @type {Object<string, number>} */
      const readings = {};
      equal.forEach((pair) => {
        own[pair] = pairs[pair];
        readings[pair] = pairs[pair].rOhm;
      });
      return windingBalance(readings, {
        halfWidthsOhm: besideHalvesOhm(own, meter), tC: tC === null ? 20 : tC,
        allowedShare: part.balanceShare, constant: part.constant,
      });
    });
}

/** @param {Object<string, WindingReading>} pairs
 * @param {import("../numbers/instruments.js").Meter} meter
 * @returns {Object<string, number>} how far each may be off the others, by digits and contact */
function besideHalvesOhm(pairs, meter) {
  const names = Object.keys(pairs);
  const beside = meterBesideOhm(meter, names.map((pair) => pairs[pair].rOhm));
  /** @type {Object<string, number>} */
  const halves = {};
  names.forEach((pair, i) => { halves[pair] = Math.hypot(beside[i], pairs[pair].contactHalfOhm); });
  return halves;
}

/** The meters that would read these leads closer, the closest first.
 * @param {WindingQuestion} question @param {WindingFacts} part
 * @param {Object<string, WindingReading>} pairs @param {?number} tC */
function betterMeters({ meter: used, kit = { meters: [], thermometers: [] } }, part, pairs, tC) {
  const names = Object.keys(pairs);
  const toValue = names.some((pair) => pairs[pair].state === "undecided");
  const half = toValue ? meterHalfOhm : meterDigitOhm;
  const readingsOhm = names.map((pair) =>
    (pairs[pair].rOhm === Infinity ? mostOhm(part, { pair, tC }) : pairs[pair].rOhm));
  const widestOhm = (/** @type {import("../numbers/instruments.js").Meter} */ meter) =>
    Math.max(...readingsOhm.map((rOhm) => half(meter, rOhm)));
  const usedOhm = widestOhm(used.meter);
  return kit.meters
    .map(({ id, name, meter }) => ({ id, name, halfOhm: widestOhm(meter) }))
    .filter(({ halfOhm }) => halfOhm < usedOhm)
    .sort((a, b) => a.halfOhm - b.halfOhm)
    .map(({ id, name }) => ({ term: "meter", id, name }));
}
