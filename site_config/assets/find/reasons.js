// Say why something was found: which of its signs it is, without words. Pure.

import { oneSlip, wordsOf } from "../answers/normal-form.js";
import { statement } from "../answers/statement.js";
import { LIMITS } from "../catalog.js";

/**
 * @typedef {import("./matching.js").Item} Item
 * @typedef {import("./matching.js").Key} Key
 * @typedef {import("../answers/statement.js").Statement} Statement
 */

/** @param {string} typed @param {import("./matching.js").Hit} hit @returns {Statement} */
export function whyFound(typed, { item, key }) {
  const by = key || keyOfWords(wordsOf(typed), item);
  if (by.way && by.way.blinks) return blinksStatement(by.way.blinks);
  return statement(`find.by-${by.type}`, { text: by.text });
}

/** @param {Item} item @returns {?Statement} how a code blinks; null where nothing blinks */
export function blinksOf(item) {
  for (const { way } of item.keys) if (way && way.blinks) return blinksStatement(way.blinks);
  return null;
}

/** @param {import("../answers/blinks.js").BlinkPattern} pattern */
function blinksStatement({ long, short }) {
  if (!short) return statement("find.by-blinks-long", { long });
  return long ? statement("find.by-blinks-long-short", { long, short })
    : statement("find.by-blinks-short", { short });
}

/** @param {string[]} words @param {Item} item @returns {Key} the one that holds most of them */
function keyOfWords(words, { keys }) {
  const counts = keys.map(({ text, flat }) => {
    const own = [...wordsOf(text), flat];
    const holds = (/** @type {string} */ word) => own.some((other) => other.startsWith(word)
      || (word.length > LIMITS.shortest_slip && oneSlip(word, other)));
    return words.filter(holds).length;
  });
  return keys[counts.indexOf(Math.max(...counts))];
}
