// Find the pages that hold every word typed. Pure: it never touches the page.
// Reads what generators/find_index.py wrote.

import { normalForm, oneSlip, wordsOf } from "../answers/normal-form.js";
import { LIMITS } from "../catalog.js";

/**
 * As it is loaded: every word in order, and beside each the pages it stands on, each as the
 * distance from the one before, in base 36.
 * @typedef {{words: string, pages: string}} TextRaw
 * @typedef {{words: string[], pages: string[]}} FullText
 * What it costs a page to hold a word typed, and as which word it holds it.
 * @typedef {{cost: number, word: string}} Held
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
 * @returns {Map<number, Held>} every page that holds it */
function pagesHolding(text, word) {
  /** @type {Map<number, Held>} */
  const holding = new Map();
  const note = (/** @type {number} */ at, /** @type {number} */ cost) => {
    const held = { cost, word: text.words[at] };
    for (const page of pagesAt(text, at)) {
      const before = holding.get(page);
      if (before === undefined || before.cost > cost) holding.set(page, held);
    }
  };
  const first = placeOf(text.words, word);
  for (let at = first; at < text.words.length && text.words[at].startsWith(word); at++) {
    note(at, text.words[at] === word ? 0 : BEGUN);
  }
  if (!holding.size && word.length > LIMITS.shortest_slip) {
    text.words.forEach((other, at) => { if (oneSlip(word, other)) note(at, SLIPPED); });
  }
  return holding;
}

/**
 * Find pages that hold every word typed, whole, begun, or with one slip.
 * @param {string} typed @param {FullText} text
 * @returns {Array<{number: number, score: number, words: string[]}>} best first; the words it holds
 */
export function matchText(typed, text) {
  const [first, ...others] = textWords(typed).map((word) => pagesHolding(text, word));
  if (!first) return [];
  /** @type {Array<{number: number, score: number, words: string[]}>} */
  const found = [];
  first.forEach((held, number) => {
    let score = IN_TEXT + held.cost;
    const words = [held.word];
    for (const other of others) {
      const next = other.get(number);
      if (!next) return;
      score += next.cost;
      words.push(next.word);
    }
    found.push({ number, score, words });
  });
  return found.sort((a, b) => a.score - b.score || a.number - b.number);
}
