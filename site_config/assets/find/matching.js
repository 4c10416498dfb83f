// Match what somebody typed with what the notes hold: codes, blinks, labels, names, words.
// Pure: it never touches the page. A code is the one that `ohmfolio code` finds.

import { patternOf } from "../answers/blinks.js";
import { readyWay, typedCode, wayFit } from "../answers/code-lookup.js";
import { familiesNamed, readyNames } from "../answers/family-words.js";
import { normalForm, oneSlip, wordsOf } from "../answers/normal-form.js";
import { LIMITS } from "../catalog.js";

/**
 * What generators/find_index.py wrote. A row: kind, title, address and context, the first and the
 * last as their place in the lists beside; then what it is found by, type and text in turn.
 * A kind has its noun beside it. A context is a family's name, and beside it stands the family's id.
 * @typedef {{items: Array<[number, string, string, number, string[]]>, kinds: string[],
 *   nouns: string[], contexts: string[], families: string[]}} IndexRaw
 *
 * way: that of a code; flat: what else is found by, in normal form.
 * @typedef {{type: string, text: string, flat: string,
 *   way: ?import("../answers/code-lookup.js").ReadyWay}} Key
 * @typedef {{number: number, kind: string, noun: string, title: string, url: string,
 *   context: string, family: string, keys: Key[], own: string[], around: string[]}} Item
 * @typedef {import("../answers/family-words.js").ReadyNames & {name: string}} NamedFamily
 * @typedef {{items: Item[], families: NamedFamily[]}} Index
 *
 * near: alike, a letter or a blink off, or elsewhere: on a family that the words do not name;
 * key: what it was found by, null for its words; far: how many families come before its own.
 * @typedef {{item: Item, score: number, near: string, key: ?Key, far: number}} Hit
 *
 * families: ids, whose own come first among equals; within: the only family to look at, or "".
 * @typedef {{families: string[], within: string}} Where
 * whole: all that was typed; rest: that without the families' names, null where it names none.
 * @typedef {import("../answers/code-lookup.js").TypedCode} TypedCode
 * @typedef {{whole: TypedCode, rest: ?TypedCode, named: string[], words: string[]}} Query
 */

/** Lower is better. One step apart keeps the groups in this order whatever else is added.
 * @type {Object<string, number>} */
const EXACT = { code: 0, asked: 0, blinks: 1, label: 2, plug: 3, order: 4, aka: 5, name: 5 };
const BEGINS = 10;
const ALL_WORDS = 20;
const SLIP = 30;
const INSIDE = 40;
/** Behind every near one of the family that is named, before what only stands in a text. */
const ELSEWHERE = 50;
/** What it costs to be found by a part of the text: the whole of it would be a better reason. */
const BESIDE_A_NAME = 0.5;
/** How a code's way fits → the score; what only looks alike stands before what is another sign.
 * @type {Object<string, number>} */
const WAY_SCORE = { same: EXACT.code, blinks: EXACT.blinks, alike: SLIP, slip: SLIP + 1, miscount: SLIP + 2 };
const SURE = ["same", "blinks"];
const WAYS = ["code", "asked"];

/**
 * Prepare the index once, so that each keystroke only compares.
 * @param {IndexRaw} raw @returns {Index}
 */
export function openIndex(raw) {
  const items = raw.items.map((row, number) => {
    /** @type {Key[]} */
    const keys = [];
    for (let i = 0; i < row[4].length; i += 2) keys.push(keyOf(row[4][i], row[4][i + 1]));
    const context = raw.contexts[row[3]];
    const own = wordsOf(`${keys.map((key) => key.text).join(" ")} ${row[1]}`);
    const flats = keys.filter((k) => k.type !== "name").map((k) => k.flat);
    return {
      number, kind: raw.kinds[row[0]], noun: raw.nouns[row[0]], title: row[1], url: row[2], context,
      family: raw.families[row[3]], keys, own: own.concat(flats), around: wordsOf(context),
    };
  });
  const families = raw.families.map((id, i) => familyOf(id, raw.contexts[i], items));
  return { items, families: families.filter(({ name }) => name) };
}

/** @param {string} id @param {string} name @param {Item[]} items @returns {NamedFamily} */
function familyOf(id, name, items) {
  const page = items.find(({ kind, title }) => kind === "family" && title === name);
  const also = page ? page.keys.filter(({ type }) => type === "aka").map(({ text }) => text) : [];
  return { ...readyNames({ id, names: [name, ...also] }), name };
}

/** @param {string} type @param {string} text @returns {Key} */
function keyOf(type, text) {
  const blinks = type === "blinks" ? patternOf(text) : null;
  const way = blinks || WAYS.includes(type) ? readyWay({ text, blinks }) : null;
  return { type, text, flat: normalForm(text), way };
}

/** @param {string} text @param {NamedFamily[]} families @returns {Query} */
function readQuery(text, families) {
  const whole = typedCode(text);
  const words = wordsOf(text);
  const { familyIds, rest } = familiesNamed(text, families);
  const beside = typedCode(rest);
  if (!familyIds.length || !beside.form) return { whole, rest: null, named: [], words };
  // Blinks are those of the machine that is named: the whole text would fit them anywhere.
  return { whole: { ...whole, patterns: [], counted: false }, rest: beside, named: familyIds, words };
}

/** @param {Query} query @param {Item} item @returns {{score: number, key: ?Key}} */
function fitOf({ whole, rest, named, words }, item) {
  let score = Infinity;
  /** @type {?Key} */
  let by = null;
  const note = (/** @type {number} */ found, /** @type {?Key} */ key) => {
    if (found < score) { score = found; by = key; }
  };
  for (const key of item.keys) {
    note(keyScore(key, whole), key);
    if (!rest || !item.family) continue;
    if (named.includes(item.family)) note(keyScore(key, rest) + BESIDE_A_NAME, key);
    else if (key.way && SURE.includes(wayFit(key.way, rest))) note(ELSEWHERE, key);
  }
  if (score > ALL_WORDS && words.length) note(wordScore(words, item), null);
  return { score, key: by };
}

/** @param {Key} key @param {TypedCode} typed */
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

/** @param {Item} item @param {string} family @returns {boolean} whether it is of it, or its page */
export const isWithin = ({ kind, title, context }, family) =>
  context === family || (kind === "family" && title === family);

/**
 * Find what was typed among the exact things.
 * @param {string} text
 * @param {Index} index from openIndex
 * @param {Where} where
 * @returns {Hit[]} best first
 */
export function matchItems(text, { items, families }, where) {
  const { within } = where;
  const query = readQuery(text, within ? families.filter(({ name }) => name === within) : families);
  if (!query.whole.form) return [];
  /** @type {Hit[]} */
  const hits = [];
  for (const item of items) {
    if (within && !isWithin(item, within)) continue;
    const { score, key } = fitOf(query, item);
    if (score === Infinity) continue;
    const place = where.families.indexOf(item.family);
    hits.push({ item, score, near: nearness(score), key, far: place < 0 ? where.families.length : place });
  }
  const exact = hits.some(isExact);
  // K1-2 is no slip of K4-2 when K4-2 is a code, nor is 100k4250: they would be in the way. What a
  // display shows alike may be it all the same, and so may the machine that was not named.
  return hits.filter((hit) => !exact || hit.score < SLIP || ["alike", "elsewhere"].includes(hit.near))
    .sort((a, b) => level(a) - level(b) || a.far - b.far || a.score - b.score
      || a.item.number - b.item.number);
}

/** @param {Hit} hit @returns {boolean} whether it is what was typed, and not only holds or nears it */
const isExact = ({ score }) => score < BEGINS;

/** The machine at hand comes before what it was found by, where both are exact.
 * @param {Hit} hit */
const level = (hit) => (isExact(hit) ? 0 : hit.score);

/** @param {number} score @returns {string} */
function nearness(score) {
  if (score >= ELSEWHERE) return "elsewhere";
  if (score < SLIP || score >= INSIDE) return "";
  if (score < SLIP + 1) return "alike";
  return Math.floor(score) === WAY_SCORE.miscount ? "blink" : "letter";
}

/**
 * Whether the first hit may be opened unseen: never where the same sign may be another machine's.
 * @param {Hit[]} hits from matchItems
 */
export function clearlyFirst([first, ...others]) {
  if (!others.length) return true;
  if (first.near) return false;
  // What only begins so, or holds these words, is meant where nothing else does.
  if (!isExact(first)) return others.every(({ score }) => score >= SLIP);
  if (others.some(({ near }) => near === "alike")) return false;
  const rivals = others.filter((hit) => isExact(hit) || (hit.near === "elsewhere" && hit.far < first.far));
  return rivals.every(({ item }) => item.family === first.item.family);
}
