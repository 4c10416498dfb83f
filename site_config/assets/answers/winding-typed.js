// Windings as typed: each pair of leads by the entry's name or without one, once or repeated.
// Mirrors kb/answers/winding_typed.py.

import { contactUOhm, meanOhm } from "../numbers/repeated.js";
import { Refusal, statement } from "./statement.js";
import { typedReadingOhm } from "./typed.js";
import { UNNAMED, mayBeUnnamed } from "./winding-unnamed.js";

/** @typedef {import("./winding-reading.js").WindingFacts} WindingFacts */
/** @typedef {import("./winding-reading.js").Repeated} Repeated */
/** @typedef {Array<[string, string]>} Readings pair of leads and text; an empty one is no reading */

/** Figures with a space between that differ by less are repeats, and no thousands: 480 482. */
const ALIKE_SHARE = 0.2;
const BETWEEN = /\s*;\s*|,?\s+(?=[\d.,]|o\.?l\b|\u221e)/i;

/**
 * @param {WindingFacts} facts @param {{readings: Readings}} typed repeats stand in one text, such as
 *   2.31 2.29 2.33, or under the same pair again
 * @returns {{read: Object<string, Repeated>, refusals: Refusal[]}}
 */
export function typedWindings(facts, { readings }) {
  const pairs = isUnnamed(facts, readings) ? UNNAMED : Object.keys(facts.pairs);
  /** @type {Object<string, number[]>} */
  const read = {};
  /** @type {Refusal[]} */
  const refusals = [];
  readings.filter(([, text]) => text.trim()).forEach(([leads, text]) => {
    try {
      const pair = pairOf(pairs, leads);
      const values = typedOhms(text, pair);
      read[pair] = [...(read[pair] || []), ...values];
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      refusals.push(error);
    }
  });
  Object.keys(read).forEach((pair) => {
    const least = Math.min(...read[pair]);
    if (least === Infinity || !read[pair].includes(Infinity)) return;
    refusals.push(new Refusal(statement("winding.contact-breaks", { pair, r_ohm: least }),
      { field: pair }));
  });
  return { read: refusals.length ? {} : repeated(read), refusals };
}

/** @param {WindingFacts} facts @param {Readings} readings
 * @returns {boolean} whether all is of leads 1, 2 and 3, where the entry's three have names */
export function isUnnamed(facts, readings) {
  if (!mayBeUnnamed(facts)) return false;
  const known = UNNAMED.map(endsOf);
  const typed = readings.filter(([, text]) => text.trim()).map(([leads]) => endsOf(leads));
  return typed.length > 0 && typed.every((ends) => known.includes(ends));
}

/** @param {string} text @param {string} pair
 * @returns {number[]} one reading, or several with a space or a semicolon between */
function typedOhms(text, pair) {
  const ohmOf = (/** @type {string} */ piece) => typedReadingOhm(piece, { field: pair });
  const pieces = text.trim().split(BETWEEN).filter((piece) => piece);
  if (pieces.length === 1) return [ohmOf(text)];
  const whole = unlessRefused(() => [ohmOf(text)]);
  if (!whole) return pieces.map(ohmOf);
  // "12 000" is one figure, and "480 482" are two of one winding.
  const each = unlessRefused(() => pieces.map(ohmOf));
  if (!each) return whole;
  const most = Math.max(...each);
  return most - Math.min(...each) < ALIKE_SHARE * most ? each : whole;
}

/** @param {function(): number[]} read @returns {?number[]} */
function unlessRefused(read) {
  try {
    return read();
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return null;
  }
}

/** @param {Object<string, number[]>} read @returns {Object<string, Repeated>} */
function repeated(read) {
  /** @type {Object<string, number[]>} */
  const finite = {};
  Object.keys(read).filter((pair) => Math.max(...read[pair]) < Infinity)
    .forEach((pair) => { finite[pair] = read[pair]; });
  const uOhm = contactUOhm(finite);
  /** @type {Object<string, Repeated>} */
  const found = {};
  Object.keys(read).forEach((pair) => {
    const values = read[pair];
    const count = values.length;
    found[pair] = pair in finite
      ? { rOhm: meanOhm(values), count, spreadOhm: Math.max(...values) - Math.min(...values),
        halfOhm: uOhm[pair] * Math.sqrt(3) }
      : { rOhm: Infinity, count, spreadOhm: 0, halfOhm: 0 };
  });
  return found;
}

/** @param {string[]} pairs @param {string} leads @returns {string} their name, however typed */
function pairOf(pairs, leads) {
  const ends = endsOf(leads);
  const found = pairs.find((pair) => endsOf(pair) === ends);
  if (found) return found;
  throw new Refusal(statement("winding.no-such-pair", { leads, pairs }), { field: leads });
}

/** @param {string} leads */
function endsOf(leads) {
  return leads.split("-").map((lead) => lead.trim().toLowerCase()).sort().join("-");
}
