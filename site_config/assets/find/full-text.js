// Find the pages that hold every word typed. Pure: it never touches the page.
// Reads what generators/find_index.py wrote.

import { normalForm, oneSlip, wordsOf } from "../answers/normal-form.js";
import { LIMITS } from "../catalog.js";

/**
 * As it is loaded: every word in order, and beside each the pages it stands on, each as the
 * distance from the one before, in base 36.
 * @typedef {{words: string, pages: string}} TextRaw
 * @typedef {{words: string[], pages: string[]}} FullText
 */

/** Behind everything that was found by a name. */
const IN_TEXT = 60;
/** What it costs a page to hold a word only begun, or with one slip. */
const BEGUN = 1;
const SLIPPED = 3;

/** @param {TextRaw} raw @returns {FullText} */
export function openText(raw) {
  const pieces = (/** @type {string} */ text) => (text ? text.split(" ") : []);
  return { words: pieces(raw.words), pages: pieces(raw.pages) };
}

/** @param {FullText} text @param {number} at the place of a word @returns {number[]} its pages */
function pagesAt(text, at) {
  let number = 0;
  return text.pages[at].split(",").map((step) => (number += parseInt(step, 36)));
}

/** What holds a digit stays in one piece, so that `X24-3` is not every 3.
 * @param {string} typed */
function textWords(typed) {
  /** @type {string[]} */
  const words = [];
  typed.split(/\s+/).forEach((piece) => {
    words.push(...(/\p{N}/u.test(piece) ? [normalForm(piece)] : wordsOf(piece)));
  });
  return words.filter((word) => word.length > 1);
}

/** The place of the first word that is not before `word`.
 * @param {string[]} words in order @param {string} word */
function placeOf(words, word) {
  let low = 0;
  let high = words.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (words[middle] < word) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** @param {FullText} text @param {string} word
 * @returns {Map<number, number>} every page that holds it → what that costs */
function costsOf(text, word) {
  /** @type {Map<number, number>} */
  const costs = new Map();
  const note = (/** @type {number} */ at, /** @type {number} */ cost) => {
    for (const page of pagesAt(text, at)) {
      const before = costs.get(page);
      if (before === undefined || before > cost) costs.set(page, cost);
    }
  };
  const first = placeOf(text.words, word);
  for (let at = first; at < text.words.length && text.words[at].startsWith(word); at++) {
    note(at, text.words[at] === word ? 0 : BEGUN);
  }
  if (!costs.size && word.length > LIMITS.shortest_slip) {
    text.words.forEach((other, at) => { if (oneSlip(word, other)) note(at, SLIPPED); });
  }
  return costs;
}

/**
 * Find pages that hold every word typed, whole, begun, or with one slip.
 * @param {string} typed @param {FullText} text
 * @returns {Array<{number: number, score: number}>} best first
 */
export function matchText(typed, text) {
  const [first, ...others] = textWords(typed).map((word) => costsOf(text, word));
  if (!first) return [];
  /** @type {Array<{number: number, score: number}>} */
  const found = [];
  first.forEach((cost, number) => {
    const costs = [cost, ...others.map((other) => other.get(number))];
    let score = IN_TEXT;
    for (const wordCost of costs) {
      if (wordCost === undefined) return;
      score += wordCost;
    }
    found.push({ number, score });
  });
  return found.sort((a, b) => a.score - b.score || a.number - b.number);
}
