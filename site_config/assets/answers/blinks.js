// Read a blink pattern however somebody writes it down. Mirrors kb/answers/blinks.py.

import { LIMITS } from "../catalog.js";
import { SPELLINGS } from "../spellings.js";
import { plainText, unmarked } from "./normal-form.js";

/**
 * So many long blinks, then so many short ones.
 * @typedef {{long: number, short: number}} BlinkPattern
 * A count, or the l of long, or the s of short.
 * @typedef {number|string} Token
 */

const DRAWN = /^[-_.*•·●∙⋅ ]+$/;
const BETWEEN = /[-/,.+:;&()!?'" ]+/;
const SPELLED = /^(?:[0-9]+(?:x|mal)?|longs?|shorts?|(?:lang|kurz)(?:e[nrs]?)?|[ls])+$/;
const TOKEN = /[0-9]+(?:x|mal)?|longs?|shorts?|(?:lang|kurz)(?:e[nrs]?)?|[ls]/g;
const LETTERS = /^([1-9][0-9]?)x? ?([lk])[-/,.+:;& ]*([1-9][0-9]?)x? ?([lk])$/;
const ZERO_BEFORE = /(?:^|[^0-9])0[0-9]/;
const BOTH_KINDS = /^[1-9][1-9]$/;

/** @param {string} key as the index of Find has it, such as 4L2S @returns {BlinkPattern} */
export function patternOf(key) {
  const [long, short] = key.split(/[LS]/).map(Number);
  return { long, short };
}

/** @param {BlinkPattern} pattern @param {BlinkPattern} other */
export const samePattern = (pattern, other) =>
  pattern.long === other.long && pattern.short === other.short;

/** @param {BlinkPattern} pattern @param {BlinkPattern} other
 * @returns {boolean} whether one blink more or less makes the other pattern of it */
export function miscounted(pattern, other) {
  const sameKinds = pattern.long > 0 === other.long > 0 && pattern.short > 0 === other.short > 0;
  return sameKinds
    && Math.abs(pattern.long - other.long) + Math.abs(pattern.short - other.short) === 1;
}

/**
 * @param {string} text 4 long 2 short; 4L2S; 4-2; four long two short; long long short; ----..;
 *   a bare count such as 3, 3x or flashes 3 times, of long blinks or of short ones; 42, which may
 *   be one of each kind; in German the same: viermal lang, zweimal kurz; 4L2K; blinkt dreimal
 * @returns {BlinkPattern[]} those that it may mean; none where it means no pattern
 */
export function readBlinks(text) {
  const plain = unmarked(plainText(text));
  const found = DRAWN.test(plain) ? drawn(plain) : germanLetters(plain) || spelled(plain);
  return found.filter(({ long, short }) =>
    Math.max(long, short) <= LIMITS.most_blinks && long + short > 0);
}

/** @param {string} plain @returns {BlinkPattern[]} */
function drawn(plain) {
  const long = plain.replace(/[^-_]/g, "").length;
  return [{ long, short: plain.replace(/ /g, "").length - long }];
}

/** 4L2K: a k is the short kind only beside an l, as K2 names a relay or a code.
 * @param {string} plain @returns {?BlinkPattern[]} */
function germanLetters(plain) {
  const [, first, kind, second, other] = LETTERS.exec(plain) || [];
  if (kind === other) return null;
  const [long, short] = kind === "l" ? [first, second] : [second, first];
  return [{ long: Number(long), short: Number(short) }];
}

/** @param {string} plain @returns {BlinkPattern[]} */
function spelled(plain) {
  /** @type {Token[]} */
  const tokens = [];
  let inWords = false;
  let strange = false;
  const pieces = plain.split(BETWEEN).filter(Boolean);
  for (const piece of pieces) {
    if (SPELLED.test(piece)) {
      tokens.push(...(piece.match(TOKEN) || [])
        .map((token) => (/^[0-9]/.test(token) ? parseInt(token, 10) : token[0] === "l" ? "l" : "s")));
      inWords = inWords || /long|short|lang|kurz/.test(piece);
      // 02 is what a display shows: who counts blinks writes no zero before them.
      strange = strange || ZERO_BEFORE.test(piece);
    } else if (Object.prototype.hasOwnProperty.call(SPELLINGS.counts, once(piece))) {
      tokens.push(SPELLINGS.counts[once(piece)]);
    } else if (![...SPELLINGS.fillers, ...SPELLINGS.general].includes(piece) && !times(piece, tokens)) {
      strange = true;
    }
  }
  const numbered = tokens.length === 1 && pieces.some((piece) => SPELLINGS.general.includes(piece));
  if ((strange && !inWords) || numbered) return [];
  const patterns = patternIn(tokens, { inWords, strange });
  // 12 blinks and 12x are counted; what ends with two digits may be read off a list.
  const last = pieces[pieces.length - 1];
  return tokens.length === 1 && BOTH_KINDS.test(last)
    ? [...patterns, { long: Number(last[0]), short: Number(last[1]) }] : patterns;
}

/** @param {string} piece @returns {string} drei of dreimal */
const once = (piece) => piece.replace(/\Bmal$/, "");

/** The sign between a count and what is counted: 2 × long.
 * @param {string} piece @param {Token[]} after */
const times = (piece, after) =>
  piece === "x" && after.length > 0 && typeof after[after.length - 1] === "number";

/** @param {Token[]} tokens @param {{inWords: boolean, strange: boolean}} read
 * @returns {BlinkPattern[]} */
function patternIn(tokens, { inWords, strange }) {
  const counts = tokens.map(Number).filter((count) => !Number.isNaN(count));
  const kinds = tokens.filter((token) => typeof token === "string");
  if (!kinds.length) return bare(counts);
  if (!counts.length) {
    // A word for each blink; short alone is what a circuit may be, too.
    if (kinds.length < 2 || !inWords || strange) return [];
    const long = kinds.filter((kind) => kind === "l").length;
    return [{ long, short: kinds.length - long }];
  }
  const first = typeof tokens[0] === "number" ? 0 : 1;
  const paired = tokens.every((token, i) =>
    (typeof token === "number") === (i % 2 === first));
  const once = kinds.length === 1 || (kinds.length === 2 && kinds[0] !== kinds[1]);
  if (!paired || counts.length !== kinds.length || !once) return [];
  const counted = (/** @type {string} */ kind) =>
    (kinds.includes(kind) ? counts[kinds.indexOf(kind)] : 0);
  return [{ long: counted("l"), short: counted("s") }];
}

/** @param {number[]} counts @returns {BlinkPattern[]} */
function bare(counts) {
  // Where no other kind is beside it, who can say whether they are long or short?
  if (counts.length === 1) return [{ long: 0, short: counts[0] }, { long: counts[0], short: 0 }];
  return counts.length === 2 ? [{ long: counts[0], short: counts[1] }] : [];
}
