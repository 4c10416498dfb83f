// The list below Find: groups of hits, each with its kind, its family and why it was found.

import { statement } from "../answers/statement.js";
import { matchText } from "../find/full-text.js";
import { isWithin, matchItems } from "../find/matching.js";
import { blinksOf, whyFound } from "../find/reasons.js";
import { nameOf, phrase } from "../words/phrase.js";
import { el } from "./element.js";

const MOST = 24;
const MOST_OF_A_KIND = 8;

/**
 * @typedef {import("../find/matching.js").Hit} Hit
 * @typedef {import("../find/matching.js").Item} Item
 * @typedef {import("../find/matching.js").Index} Index
 * @typedef {import("../find/matching.js").Where} Where
 * @typedef {{item: Item, why: string}} Row
 * hits: those among the exact things; groups: what is shown, the best hit's group first.
 * @typedef {{hits: Hit[], groups: Array<{name: string, rows: Row[]}>}} Found
 */

/** @param {string} typed @param {{index: Index, text: ?import("../find/full-text.js").FullText}} notes
 * @param {Where} where @returns {Found} */
export function findAll(typed, { index, text }, where) {
  const seen = new Set();
  /** @type {Map<string, Row[]>} */
  const rows = new Map();
  /** @param {string} name @param {Item} item @param {function(): string} why */
  function put(name, item, why) {
    if (seen.has(item.number) || seen.size >= MOST) return;
    const group = rows.get(name) || [];
    if (group.length >= MOST_OF_A_KIND) return;
    rows.set(name, group);
    seen.add(item.number);
    group.push({ item, why: why() });
  }
  const hits = matchItems(typed, index, where);
  for (const hit of hits) {
    if (seen.size >= MOST) break;
    put(groupName(hit), hit.item, () => phrase(whyFound(typed, hit)));
  }
  if (text && seen.size < MOST) {
    const wanted = (/** @type {number} */ number) => !seen.has(number)
      && (!where.within || isWithin(index.items[number], where.within));
    const name = nameOf("find-group", "text");
    matchText(typed, text, { most: MOST_OF_A_KIND, wanted }).forEach(({ number, words }) => {
      put(name, index.items[number], () => phrase(statement("find.by-text", { words })));
    });
  }
  return { hits, groups: Array.from(rows, ([name, group]) => ({ name, rows: group })) };
}

/** @param {Hit} hit @returns {string} */
function groupName({ near, item }) {
  if (near === "elsewhere") return nameOf("find-group", near);
  return nameOf("find-group", near ? `near-${near}` : item.kind);
}

/** @param {Row} row @param {{place: number, within: string}} among which family is said already
 * @returns {HTMLElement} */
export function hitOption({ item, why }, { place, within }) {
  const pattern = blinksOf(item);
  const blinks = pattern && phrase(pattern);
  const choice = el("div", "ohm-find-hit",
    el("span", "ohm-find-title", item.title),
    el("span", "ohm-find-why", why),
    blinks && blinks !== why ? el("span", "ohm-find-blinks", blinks) : null,
    el("div", "ohm-find-of", el("span", "ohm-find-kind", item.noun),
      item.context && !within ? el("span", "ohm-find-context", item.context) : null));
  choice.setAttribute("role", "option");
  choice.setAttribute("aria-selected", "false");
  choice.id = `ohm-find-${place}`;
  choice.dataset.url = item.url;
  return choice;
}

/** @param {string} words @param {number} place @param {HTMLElement[]} choices
 * @returns {HTMLElement} hits under a name of their own */
export function hitGroup(words, place, choices) {
  const name = el("span", "ohm-find-group", words);
  const box = el("div", null, name, ...choices);
  name.id = `ohm-find-group-${place}`;
  name.setAttribute("role", "presentation");
  box.setAttribute("role", "group");
  box.setAttribute("aria-labelledby", name.id);
  return box;
}
