// Match what somebody typed with what the notes hold: codes, blinks, labels, names, words.
// Pure: it never touches the page. A code is the one that `ohmfolio code` finds.

import { patternOf } from "../answers/blinks.js";
import { readyWay, typedCode, wayFit } from "../answers/code-lookup.js";
import { familiesNamed, readyNames } from "../answers/family-words.js";
import { normalForm, oneSlip, wordsOf } from "../answers/normal-form.js";
import { LIMITS } from "../catalog.js";
import { add, beginning, inPlaces, listOf, placeOf } from "./places.js";

/**
 * What generators/find_index.py wrote. A list of each item's: kind, title, address and context, the
 * first and the last as their place in the lists beside; then what it is found by, type and text in turn.
 * A kind has its noun beside it. A context is a family's name, and beside it stands the family's id.
 * @typedef {{items: [number[], string[], string[], number[], string[][]], kinds: string[],
 *   nouns: string[], contexts: string[], families: string[]}} IndexRaw
 *
 * way: that of a code; flat: what else is found by, in normal form.
 * @typedef {{type: string, text: string, flat: string,
 *   way: ?import("../answers/code-lookup.js").ReadyWay}} Key
 * @typedef {{number: number, kind: string, noun: string, title: string, url: string,
 *   context: string, family: string, keys: Key[]}} Item
 * @typedef {import("../answers/family-words.js").ReadyNames & {name: string}} NamedFamily
 *
 * Each key once, in the order of their forms, with the items that have it and its place in each;
 * looks and blinks: which of them to ask about what is shown; own, around: the words of items and of
 * what stands around them, in order.
 * @typedef {import("./places.js").Places} Places
 * @typedef {{keys: Key[], forms: string[], holders: number[][], looks: Map<string, number[]>,
 *   blinks: number[], own: Places, around: Places, contexts: number[]}} Ready
 * @typedef {{items: Item[], families: NamedFamily[], ready: Ready}} Index
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
/** What a word costs that is not there: more than any other. */
const NOWHERE = 250;

/**
 * Prepare the index once, so that each keystroke only compares what is there once.
 * @param {IndexRaw} raw @returns {Index}
 */
export function openIndex(raw) {
  /** @type {Map<string, {key: Key, lists: number[][], held: number[]}>} */
  const distinct = new Map();
  /** @type {Map<string, number[]>} */
  const own = new Map();
  const keyOnce = (/** @type {string} */ type, /** @type {string} */ text) => {
    const name = `${type} ${text}`;
    let known = distinct.get(name);
    if (!known) {
      const key = keyOf(type, text);
      const words = wordsOf(text).concat(type === "name" ? [] : key.flat);
      known = { key, lists: words.map((word) => listOf(own, word)), held: [] };
      distinct.set(name, known);
    }
    return known;
  };
  const [kinds, titles, urls, contexts, found] = raw.items;
  const items = titles.map((title, number) => {
    /** @type {Key[]} */
    const keys = [];
    for (let i = 0; i < found[number].length; i += 2) {
      const { key, lists, held } = keyOnce(found[number][i], found[number][i + 1]);
      held.push(number, keys.length);
      keys.push(key);
      for (const list of lists) add(list, number);
    }
    for (const word of wordsOf(title)) add(listOf(own, word), number);
    const [kind, context] = [kinds[number], contexts[number]];
    return {
      number, kind: raw.kinds[kind], noun: raw.nouns[kind], title, url: urls[number],
      context: raw.contexts[context], family: raw.families[context], keys,
    };
  });
  /** @type {Map<string, number[]>} */
  const around = new Map();
  raw.contexts.forEach((context, at) => wordsOf(context).forEach((word) => add(listOf(around, word), at)));
  const words = { own: inPlaces(own, items.length), around: inPlaces(around, raw.contexts.length) };
  const ready = { ...readyKeys(Array.from(distinct.values())), ...words, contexts };
  return { items, families: namedFamilies(raw, items), ready };
}

/** @param {IndexRaw} raw @param {Item[]} items @returns {NamedFamily[]} */
function namedFamilies(raw, items) {
  /** @type {Map<string, Item>} */
  const pages = new Map();
  items.forEach((item) => {
    if (item.kind === "family" && !pages.has(item.title)) pages.set(item.title, item);
  });
  return raw.families.map((id, i) => familyOf(id, raw.contexts[i], pages.get(raw.contexts[i])))
    .filter(({ name }) => name);
}

/** @param {Array<{key: Key, held: number[]}>} distinct */
function readyKeys(distinct) {
  const order = distinct.sort((a, b) => (a.key.flat < b.key.flat ? -1 : 1));
  /** @type {Map<string, number[]>} */
  const looks = new Map();
  /** @type {number[]} */
  const blinks = [];
  order.forEach(({ key: { way } }, at) => {
    if (way && way.blinks) blinks.push(at);
    else if (way) looks.set(way.look, (looks.get(way.look) || []).concat(at));
  });
  return {
    keys: order.map(({ key }) => key), forms: order.map(({ key }) => key.flat),
    holders: order.map(({ held }) => held), looks, blinks,
  };
}

/** @param {string} id @param {string} name @param {Item} [page] @returns {NamedFamily} */
function familyOf(id, name, page) {
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

/** @param {Query} query @param {Index} index
 * @returns {{scores: Float64Array, by: Int32Array}} of each item; by: the place of its key, −1 for none */
function fitsOf({ whole, rest, named, words }, { items, ready }) {
  const scores = new Float64Array(items.length).fill(Infinity);
  const by = new Int32Array(items.length).fill(-1);
  const note = (/** @type {number} */ item, /** @type {number} */ score, /** @type {number} */ place) => {
    if (score > scores[item] || (score === scores[item] && place >= by[item])) return;
    scores[item] = score;
    by[item] = place;
  };
  keysFitting(whole, ready).forEach((score, at) => {
    const held = ready.holders[at];
    for (let i = 0; i < held.length; i += 2) note(held[i], score, held[i + 1]);
  });
  if (rest) {
    keysFitting(rest, ready).forEach((score, at) => {
      const { way } = ready.keys[at];
      const sure = way && SURE.includes(wayFit(way, rest));
      const held = ready.holders[at];
      for (let i = 0; i < held.length; i += 2) {
        const { family } = items[held[i]];
        if (family && named.includes(family)) note(held[i], score + BESIDE_A_NAME, held[i + 1]);
        else if (family && sure) note(held[i], ELSEWHERE, held[i + 1]);
      }
    });
  }
  if (words.length) {
    const score = wordScores(words, ready, items.length);
    for (let item = 0; item < items.length; item++) {
      const found = scores[item] > ALL_WORDS ? score(item) : Infinity;
      if (found < scores[item]) { scores[item] = found; by[item] = -1; }
    }
  }
  return { scores, by };
}

/** @param {TypedCode} typed @param {Ready} ready
 * @returns {Map<number, number>} the place of each key that fits → how well */
function keysFitting(typed, { keys, forms, looks, blinks }) {
  /** @type {Map<number, number>} */
  const found = new Map();
  const { form } = typed;
  const ask = (/** @type {number} */ at) => {
    if (found.has(at)) return;
    const score = keyScore(keys[at], typed);
    if (score < Infinity) found.set(at, score);
  };
  beginning(forms, form, ask);
  (looks.get(typed.look) || []).forEach(ask);
  if (typed.patterns.length) blinks.forEach(ask);
  if (form.length >= LIMITS.shortest_slip) {
    forms.forEach((flat, at) => {
      if (Math.abs(flat.length - form.length) < 2 || flat.includes(form)) ask(at);
    });
  }
  return found;
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
 * @param {string[]} words @param {Ready} ready @param {number} count of items
 * @returns {function(number): number} the score of an item */
function wordScores(words, { keys, forms, holders, own, around, contexts }, count) {
  const here = words.map((word) => costs(word, own, count));
  const beside = words.map((word) => costs(word, around, around.count));
  const pairs = words.slice(1).map((word, i) => {
    const both = new Uint8Array(count);
    const pair = words[i] + word;
    for (let at = placeOf(forms, pair); forms[at] === pair; at++) {
      if (keys[at].type !== "name") holders[at].forEach((item, j) => { if (j % 2 === 0) both[item] = 1; });
    }
    return both;
  });
  return (item) => {
    let [worst, found] = [0, 0];
    for (let i = 0; i < words.length; i++) {
      if (i < pairs.length && pairs[i][item]) {
        found += 2;
        i++;
        continue;
      }
      const [inside, outside] = [here[i][item], beside[i][contexts[item]]];
      if (inside === NOWHERE && outside === NOWHERE) return Infinity;
      if (inside < NOWHERE) found++;
      worst = Math.max(worst, Math.min(inside, outside + 1));
    }
    return found ? ALL_WORDS + worst : Infinity;
  };
}

/** @param {string} typed a word @param {Places} places @param {number} count of what may hold it
 * @returns {Uint8Array} what it costs each to hold the word; NOWHERE where it does not */
function costs(typed, { texts, holders }, count) {
  const cost = new Uint8Array(count).fill(NOWHERE);
  const note = (/** @type {number} */ at) => {
    const fit = wordFit(typed, texts[at]);
    if (fit < Infinity) for (const item of holders[at]) cost[item] = Math.min(cost[item], fit);
  };
  beginning(texts, typed, note);
  if (typed.length > LIMITS.shortest_slip) {
    texts.forEach((word, at) => { if (Math.abs(word.length - typed.length) < 2) note(at); });
  }
  return cost;
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
export function matchItems(text, index, where) {
  const { items, families } = index;
  const { within } = where;
  const query = readQuery(text, within ? families.filter(({ name }) => name === within) : families);
  if (!query.whole.form) return [];
  const { scores, by } = fitsOf(query, index);
  /** @type {Hit[]} */
  const hits = [];
  for (const item of items) {
    const score = scores[item.number];
    if (score === Infinity || (within && !isWithin(item, within))) continue;
    const key = item.keys[by[item.number]] || null;
    const place = where.families.indexOf(item.family);
    hits.push({ item, score, near: nearness(score), key, far: place < 0 ? where.families.length : place });
  }
  const exact = hits.some(isExact);
  // K1-2 is no slip of K4-2 when K4-2 is a code, nor is 100k4250: they would be in the way. What a
  // display shows alike may be it all the same, and so may the machine that was not named.
  return inOrder(hits.filter((hit) =>
    !exact || hit.score < SLIP || ["alike", "elsewhere"].includes(hit.near)));
}

/** By level, then by how far its family is, score and number; as one number each, which sorts quickly.
 * @param {Hit[]} hits by their numbers @returns {Hit[]} */
function inOrder(hits) {
  const most = hits.reduce((farthest, { far }) => Math.max(farthest, far), 0) + 1;
  const ranks = Float64Array.from(hits, (hit, i) =>
    ((level(hit) * 2 * most + hit.far) * 256 + hit.score * 2) * hits.length + i);
  return Array.from(ranks.sort(), (rank) => hits[rank % hits.length]);
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
