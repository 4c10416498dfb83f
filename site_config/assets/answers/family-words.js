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
  const naming = families.map((family) => placesNaming(pieces, family));
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

/** @param {string[]} pieces @param {ReadyNames} family @returns {Set<number>} of those that name it */
function placesNaming(pieces, { words, forms }) {
  /** @type {Set<number>} */
  const places = new Set();
  pieces.forEach((piece, begin) => {
    if (namedBy(wordsOf(piece), words)) places.add(begin);
    const last = Math.min(pieces.length, begin + LIMITS.longest_name);
    for (let end = begin + 1; end <= last; end++) {
      // A number names a machine only inside a whole name: alone it is what is shown.
      const form = normalForm(pieces.slice(begin, end).join(" "));
      if (!forms.includes(form) || /^[0-9]*$/.test(form) || nameless(form)) continue;
      for (let i = begin; i < end; i++) places.add(i);
    }
  });
  return places;
}

/** @param {string[]} piece its words @param {string[]} words of the family */
const namedBy = (piece, words) => piece.length > 0 && piece.every((word) =>
  !nameless(word) && !DIGIT.test(word) && words.some((name) => fits(word, name)));

/** @param {string} word @param {string} name */
function fits(word, name) {
  if (word.length < LIMITS.shortest_slip) return word === name && word.length > 1;
  return name.startsWith(word) || (word.length >= LIMITS.shortest_slip_of_a_name && oneSlip(word, name));
}
