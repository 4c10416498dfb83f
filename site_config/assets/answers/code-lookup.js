// Which codes are shown so, however somebody types it; and which are close, where none is. Mirrors
// kb/answers/code_lookup.py.

import { FITS, LIMITS } from "../catalog.js";
import { miscounted, readBlinks, samePattern } from "./blinks.js";
import { lookOf, normalForm, oneSlip } from "./normal-form.js";
import { Refusal, statement } from "./statement.js";

/**
 * @typedef {import("./blinks.js").BlinkPattern} BlinkPattern
 * @typedef {import("./statement.js").Statement} Statement
 * One way a code is shown: a text, or blinks.
 * @typedef {{text: string, blinks: ?BlinkPattern}} ShownWay
 * @typedef {{id: string, ways: ShownWay[]}} KnownCode
 * What was typed, the name of the machines that show the codes, and these in reading order.
 * @typedef {{shown: string, family: string, codes: KnownCode[]}} CodeQuestion
 * The codes that are shown so, by id: those by their text, then those by their blinks.
 * @typedef {{codeIds: string[]}} CodesFound
 *
 * What was typed, or a way that is shown, ready to be held against the other.
 * @typedef {{form: string, look: string, patterns: BlinkPattern[], counted: boolean}} TypedCode
 * @typedef {{form: string, look: string, blinks: ?BlinkPattern}} ReadyWay
 * @typedef {{code: KnownCode, way: ShownWay, fit: string}} Fitting
 */

const SURE = ["same", "blinks"];

/** @param {string} text @returns {TypedCode} */
export function typedCode(text) {
  const form = normalForm(text);
  const patterns = readBlinks(text);
  return { form, look: lookOf(form), patterns, counted: patterns.length > 0 && !/^[0-9]+$/.test(form) };
}

/** @param {ShownWay} way @returns {ReadyWay} */
export function readyWay({ text, blinks }) {
  const form = blinks ? "" : normalForm(text);
  return { form, look: lookOf(form), blinks };
}

/** @param {ReadyWay} way @param {TypedCode} typed
 * @returns {string} how it fits: a name of FITS, or nothing */
export function wayFit({ form, look, blinks }, typed) {
  if (blinks) {
    if (typed.patterns.some((pattern) => samePattern(blinks, pattern))) return "blinks";
    const near = typed.patterns.some((pattern) => miscounted(blinks, pattern));
    return typed.counted && near ? "miscount" : "";
  }
  if (form === typed.form) return "same";
  if (look === typed.look) return "alike";
  return typed.form.length >= LIMITS.shortest_slip && oneSlip(typed.form, form) ? "slip" : "";
}

/** @param {CodeQuestion} question @returns {CodesFound}
 * @throws {Refusal} missing where nothing was typed; where no code is shown so, with what is near */
export function findCodes(question) {
  const typed = typedCode(question.shown);
  if (!typed.form) throw new Refusal(statement("code.shown-missing"), { field: "shown", missing: true });
  const found = fitting(question.codes, typed);
  const sure = found.filter(({ fit }) => SURE.includes(fit));
  if (sure.length) return { codeIds: sure.map(({ code }) => code.id) };
  throw new Refusal(unknown(question, found.map(({ way }) => way)), { field: "shown" });
}

/** Each code that fits, by its closest way; the closest code first.
 * @param {KnownCode[]} codes @param {TypedCode} typed @returns {Fitting[]} */
function fitting(codes, typed) {
  /** @type {Fitting[]} */
  const found = [];
  for (const code of codes) {
    const fits = code.ways
      .map((way) => ({ code, way, fit: wayFit(readyWay(way), typed) }))
      .filter(({ fit }) => fit);
    if (fits.length) {
      found.push(fits.reduce((best, next) => (FITS[next.fit] < FITS[best.fit] ? next : best)));
    }
  }
  // Old engines sort unstably: equals keep their place by being numbered.
  return found.map((fits, place) => ({ fits, place }))
    .sort((a, b) => FITS[a.fits.fit] - FITS[b.fits.fit] || a.place - b.place)
    .map(({ fits }) => fits);
}

/** @param {CodeQuestion} question @param {ShownWay[]} near @returns {Statement} */
function unknown({ shown, family, codes }, near) {
  const figures = { family, shown: shown.trim() };
  if (near.length) {
    return statement("code.unknown-near",
      { ...figures, near: near.slice(0, LIMITS.most_near).map(quoted) });
  }
  if (!codes.length) return statement("code.none", { family });
  const listed = codes.slice(0, LIMITS.most_listed).map(({ ways }) => quoted(ways[0]));
  const more = codes.length - LIMITS.most_listed;
  return more > 0 ? statement("code.unknown-more", { ...figures, listed, more })
    : statement("code.unknown", { ...figures, listed });
}

/** @param {ShownWay} way @returns {Statement} */
function quoted({ text, blinks }) {
  if (!blinks) return statement("code.shown-text", { text });
  const { long, short } = blinks;
  if (!short) return statement("code.shown-long", { long });
  return long ? statement("code.shown-long-short", { long, short })
    : statement("code.shown-short", { short });
}
