// Find the pages that hold every word typed. Pure: it never touches the page.
// Reads what generators/find_index.py wrote.

import { normalForm, oneSlip, wordsOf } from "../answers/normal-form.js";
import { LIMITS } from "../catalog.js";
import { beginning } from "./places.js";

/**
 * As it is loaded: every word in order, and beside each the pages it stands on, each as the
 * distance from the one before, in base 36.
 * @typedef {{words: string, pages: string}} TextRaw
 * read: those that were asked for; count: of all pages.
 * @typedef {{words: string[], pages: string[], read: Array<number[] | undefined>, count: number}} FullText
 * What it costs each page to hold a word typed, ABSENT where it does not, and as which word it does.
 * @typedef {{cost: Uint8Array, as: Int32Array}} Held
 * most: so many at most; wanted: which pages, by number.
 * @typedef {{most: number, wanted: function(number): boolean}} Asked
 */

/** Behind everything that was found by a name. */
const IN_TEXT = 60;
/** What it costs a page to hold a word only begun, or with one slip. */
const BEGUN = 1;
const SLIPPED = 3;

const ABSENT = 255;

/** @param {TextRaw} raw @param {number} count of pages @returns {FullText} */
export function openText(raw, count) {
  const pieces = (/** @type {string} */ text) => (text ? text.split(" ") : []);
  return { words: pieces(raw.words), pages: pieces(raw.pages), read: [], count };
}

/** @param {FullText} text @param {number} at the place of a word @returns {number[]} its pages */
function pagesAt(text, at) {
  let number = 0;
  const read = text.read[at] || text.pages[at].split(",").map((step) => (number += parseInt(step, 36)));
  text.read[at] = read;
  return read;
}

/** What holds a digit stays in one piece, so that `X24-3` is not every 3; a letter alone says nothing.
 * @param {string} typed */
function textWords(typed) {
  /** @type {string[]} */
  const words = [];
  typed.split(/\s+/).forEach((piece) => {
    words.push(...(/\p{N}/u.test(piece) ? [normalForm(piece)] : wordsOf(piece)));
  });
  return words.filter((word) => word.length > 1 || /[0-9]/.test(word));
}

/** @param {FullText} text @param {string} word @returns {Held} */
function pagesHolding(text, word) {
  const cost = new Uint8Array(text.count).fill(ABSENT);
  const as = new Int32Array(text.count);
  let isHeld = false;
  const note = (/** @type {number} */ at, /** @type {number} */ costs) => {
    isHeld = true;
    for (const page of pagesAt(text, at)) if (costs < cost[page]) { cost[page] = costs; as[page] = at; }
  };
  beginning(text.words, word, (at) => note(at, text.words[at] === word ? 0 : BEGUN));
  if (!isHeld && word.length > LIMITS.shortest_slip) {
    text.words.forEach((other, at) => { if (oneSlip(word, other)) note(at, SLIPPED); });
  }
  return { cost, as };
}

/**
 * Find pages that hold every word typed, whole, begun, or with one slip.
 * @param {string} typed @param {FullText} text @param {Asked} asked
 * @returns {Array<{number: number, score: number, words: string[]}>} best first; the words it holds
 */
export function matchText(typed, text, { most, wanted }) {
  const held = textWords(typed).map((word) => pagesHolding(text, word));
  /** Pages by what all words together cost, each list in the order of their numbers.
   * @type {number[][]} */
  const found = [];
  for (let page = 0; held.length && page < text.count; page++) {
    let costs = 0;
    for (const { cost } of held) costs = cost[page] === ABSENT ? Infinity : costs + cost[page];
    if (costs === Infinity) continue;
    const pages = found[costs] || (found[costs] = []);
    if (pages.length < most && wanted(page)) pages.push(page);
  }
  /** @type {Array<{number: number, score: number, words: string[]}>} */
  const best = [];
  found.forEach((pages, costs) => pages.forEach((number) => {
    const words = held.map(({ as }) => text.words[as[number]]);
    if (best.length < most) best.push({ number, score: IN_TEXT + costs, words });
  }));
  return best;
}
