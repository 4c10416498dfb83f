// Which families somebody names beside a code, and what is left of the text without their names.
// Mirrors kb/answers/family_words.py.

import { LIMITS } from "../catalog.js";
import { SPELLINGS } from "../spellings.js";
import { normalForm, oneSlip, plainText, unmarked, wordsOf } from "./normal-form.js";

/**
 * A family, and everything it is called: its name first; and that ready to be held against a text.
 * @typedef {{id: string, names: string[]}} KnownNames
 * @typedef {{id: string, words: string[], forms: string[]}} ReadyNames
 * Those that most words of a text name; what is left of it without these words.
 * @typedef {{familyIds: string[], rest: string}} FamiliesNamed
 */

const DIGIT = /[0-9]/;

/** @param {string} word @returns {boolean} whether it says how a code is shown, or is of any machine */
const nameless = (word) => SPELLINGS.general.includes(word) || SPELLINGS.kinds.includes(word)
  || SPELLINGS.fillers.includes(word) || Object.prototype.hasOwnProperty.call(SPELLINGS.counts, word);

/** @param {KnownNames} family @returns {ReadyNames} */
export const readyNames = ({ id, names }) =>
  ({ id, words: wordsOf(names.join(" ")), forms: names.map(normalForm) });

/** @param {string} text @param {ReadyNames[]} families
 * @returns {FamiliesNamed} by whole words, begun ones, or with one slip */
export function familiesNamed(text, families) {
  const pieces = plainText(text).split(" ");
  const [words, spans] = [pieces.map(telling), spansOf(pieces)];
  const naming = families.map((family) => placesNaming(words, spans, family));
  const most = Math.max(0, ...naming.map((places) => places.size));
  if (!most) return { familyIds: [], rest: pieces.join(" ") };
  const named = families.map((_, i) => i).filter((i) => naming[i].size === most);
  const taken = (/** @type {number} */ place) =>
    SPELLINGS.general.includes(unmarked(pieces[place])) || named.some((i) => naming[i].has(place));
  return {
    familyIds: named.map((i) => families[i].id),
    rest: pieces.filter((_, i) => !taken(i)).join(" "),
  };
}

/** What may name a machine, made ready once for all of them: pieces one after the other, as one name.
 * @typedef {{begin: number, end: number, form: string}} Span
 * @param {string[]} pieces @returns {Span[]} */
function spansOf(pieces) {
  /** @type {Span[]} */
  const spans = [];
  pieces.forEach((_, begin) => {
    const last = Math.min(pieces.length, begin + LIMITS.longest_name);
    for (let end = begin + 1; end <= last; end++) {
      // A number names a machine only inside a whole name: alone it is what is shown.
      const form = normalForm(pieces.slice(begin, end).join(" "));
      if (!/^[0-9]*$/.test(form) && !nameless(form)) spans.push({ begin, end, form });
    }
  });
  return spans;
}

/** @param {string} piece @returns {string[]} its words; none where one of them says nothing */
function telling(piece) {
  const words = wordsOf(piece);
  return words.every((word) => !nameless(word) && !DIGIT.test(word)) ? words : [];
}

/** @param {string[][]} pieces their words @param {Span[]} spans @param {ReadyNames} family
 * @returns {Set<number>} of those that name it */
function placesNaming(pieces, spans, { words, forms }) {
  /** @type {Set<number>} */
  const places = new Set();
  pieces.forEach((own, place) => {
    if (own.length && own.every((word) => words.some((name) => fits(word, name)))) places.add(place);
  });
  for (const { begin, end, form } of spans) {
    if (forms.includes(form)) for (let i = begin; i < end; i++) places.add(i);
  }
  return places;
}

/** @param {string} word @param {string} name */
function fits(word, name) {
  if (word.length < LIMITS.shortest_slip) return word === name && word.length > 1;
  return name.startsWith(word) || (word.length >= LIMITS.shortest_slip_of_a_name && oneSlip(word, name));
}
