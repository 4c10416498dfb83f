// Match what somebody typed with what the notes hold: codes, blinks, labels, names, words.
// Pure: it never touches the page. A code is the one that `ohmfolio code` finds.

import { patternOf } from "../answers/blinks.js";
import { readyWay, typedCode, wayFit } from "../answers/code-lookup.js";
import { normalForm, oneSlip, wordsOf } from "../answers/normal-form.js";
import { LIMITS } from "../catalog.js";

/**
 * What generators/find_index.py wrote. A row: kind, title, address and context, the first and the
 * last as their place in the lists beside; then what it is found by, type and text in turn.
 * @typedef {{items: Array<[number, string, string, number, string[]]>, kinds: string[],
 *   contexts: string[]}} IndexRaw
 *
 * way: that of a code; flat: what else is found by, in normal form.
 * @typedef {{type: string, text: string, flat: string,
 *   way: ?import("../answers/code-lookup.js").ReadyWay}} Key
 * @typedef {{number: number, kind: string, title: string, url: string, context: string,
 *   keys: Key[], own: string[], around: string[]}} Item
 * @typedef {{item: Item, score: number, near: string}} Hit near: a letter or a blink off, or nothing
 */

/** Lower is better. One step apart keeps the groups in this order whatever else is added.
 * @type {Object<string, number>} */
const EXACT = { code: 0, blinks: 1, label: 2, plug: 3, order: 4, aka: 5, name: 5 };
const BEGINS = 10;
const ALL_WORDS = 20;
const SLIP = 30;
const INSIDE = 40;
/** How a code's way fits → the score; what only looks alike stands before what is another sign.
 * @type {Object<string, number>} */
const WAY_SCORE = { same: EXACT.code, blinks: EXACT.blinks, alike: SLIP, slip: SLIP + 1, miscount: SLIP + 2 };

/**
 * Prepare the index once, so that each keystroke only compares.
 * @param {IndexRaw} raw @returns {Item[]}
 */
export function openIndex(raw) {
  return raw.items.map((row, number) => {
    /** @type {Key[]} */
    const keys = [];
    for (let i = 0; i < row[4].length; i += 2) keys.push(keyOf(row[4][i], row[4][i + 1]));
    const context = raw.contexts[row[3]];
    const own = wordsOf(`${keys.map((key) => key.text).join(" ")} ${row[1]}`);
    const flats = keys.filter((k) => k.type !== "name").map((k) => k.flat);
    return {
      number, kind: raw.kinds[row[0]], title: row[1], url: row[2], context,
      keys, own: own.concat(flats), around: wordsOf(context),
    };
  });
}

/** @param {string} type @param {string} text @returns {Key} */
function keyOf(type, text) {
  const blinks = type === "blinks" ? patternOf(text) : null;
  const way = blinks || type === "code" ? readyWay({ text, blinks }) : null;
  return { type, text, flat: normalForm(text), way };
}

/**
 * @param {import("../answers/code-lookup.js").TypedCode} typed @param {string[]} words of it
 * @param {Item} item
 */
function scoreOf(typed, words, item) {
  const scores = item.keys.map((key) => keyScore(key, typed));
  const best = Math.min(Infinity, ...scores);
  return best > ALL_WORDS && words.length ? Math.min(best, wordScore(words, item)) : best;
}

/** @param {Key} key @param {import("../answers/code-lookup.js").TypedCode} typed */
function keyScore({ type, flat, way }, typed) {
  const fit = way ? wayFit(way, typed) : "";
  const own = fit ? WAY_SCORE[fit] : Infinity;
  if (way && way.blinks) return own;
  const weight = EXACT[type] === undefined ? 6 : EXACT[type];
  if (flat === typed.form) return weight;
  if (flat.startsWith(typed.form)) return BEGINS + weight;
  if (way && own < Infinity) return own;
  if (typed.form.length < LIMITS.shortest_slip) return Infinity;
  if (type !== "name" && !way && oneSlip(typed.form, flat)) return SLIP + weight + 1;
  return flat.includes(typed.form) ? INSIDE + weight : Infinity;
}

/** Every word typed must stand in the item or its family; parts of a code may stand apart.
 * @param {string[]} words @param {Item} item */
function wordScore(words, item) {
  let worst = 0;
  let own = 0;
  for (let i = 0; i < words.length; i++) {
    let here = Infinity;
    const pair = i + 1 < words.length ? words[i] + words[i + 1] : null;
    if (pair && item.keys.some((key) => key.type !== "name" && key.flat === pair)) {
      own += 2;
      i++;
      continue;
    }
    for (const word of item.own) here = Math.min(here, wordFit(words[i], word));
    if (here < Infinity) own++;
    for (const word of item.around) here = Math.min(here, wordFit(words[i], word) + 1);
    if (here === Infinity) return Infinity;
    worst = Math.max(worst, here);
  }
  return own ? ALL_WORDS + worst : Infinity;
}

/** @param {string} typed @param {string} word */
function wordFit(typed, word) {
  if (word === typed) return 0;
  if (word.startsWith(typed)) return 2;
  return typed.length > LIMITS.shortest_slip && oneSlip(typed, word) ? 15 : Infinity;
}

/**
 * Find what was typed among the exact things.
 * @param {string} text
 * @param {Item[]} items from openIndex
 * @param {string} near the family whose page is open: its own come first among equals
 * @returns {Hit[]} best first
 */
export function matchItems(text, items, near) {
  const typed = typedCode(text);
  if (!typed.form) return [];
  const words = wordsOf(text);
  /** @type {Hit[]} */
  const hits = [];
  for (const item of items) {
    const score = scoreOf(typed, words, item);
    if (score < Infinity) hits.push({ item, score, near: nearness(score) });
  }
  const exact = hits.some((hit) => hit.score < BEGINS);
  const far = (/** @type {Hit} */ { item }) => (item.context === near ? 0 : 1);
  // K1-2 is no slip of K4-2 when K4-2 is a code, nor is 100k4250: they would be in the way.
  return hits.filter((hit) => !exact || hit.score < SLIP)
    .sort((a, b) => a.score - b.score || far(a) - far(b) || a.item.number - b.item.number);
}

/** @param {number} score @returns {string} */
function nearness(score) {
  if (score < SLIP || score >= INSIDE) return "";
  return score === WAY_SCORE.miscount ? "blink" : "letter";
}
