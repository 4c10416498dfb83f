// Match what somebody typed with what the notes hold: codes, blinks, labels, names, words.
// Pure: it never touches the page. Mirrors generators/find_index.py (squeeze, words_of).

/**
 * What generators/find_index.py wrote. A row: kind, title, address and context, the first and the
 * last as their place in the lists beside; then what it is found by, type and text in turn.
 * @typedef {{items: Array<[number, string, string, number, string[]]>, kinds: string[],
 *   contexts: string[]}} IndexRaw
 *
 * @typedef {{type: string, text: string, flat: string, look: string}} Key
 * @typedef {{number: number, kind: string, title: string, url: string, context: string,
 *   keys: Key[], own: string[], around: string[]}} Item
 * @typedef {{item: Item, score: number, slip: boolean}} Hit slip: something else than was typed
 */

/** Lower is better. One step apart keeps the groups in this order whatever else is added.
 * @type {Object<string, number>} */
const EXACT = { code: 0, blinks: 1, label: 2, plug: 3, order: 4, aka: 5, name: 5 };
const BEGINS = 10;
const ALL_WORDS = 20;
const SLIP = 30;
const INSIDE = 40;
/** One letter of fewer than these is another word, no slip. */
export const SHORTEST_SLIP = 3;
/** @type {Object<string, string>} */
const ALIKE = { o: "0", i: "1", l: "1", s: "5", b: "8" };

/** @param {string} text */
function plain(text) {
  return text.toLowerCase().normalize("NFKD").replace(/ß/g, "ss").replace(/ς/g, "σ");
}

/** Letters and digits only: `K4-2`, `k4 2` and `K42` are one key.
 * @param {string} text */
export function squeeze(text) {
  return plain(text).replace(/[^\p{L}\p{N}]/gu, "") || text.replace(/\s/g, "");
}

/** @param {string} text @returns {string[]} */
export function wordsOf(text) {
  return plain(text).replace(/\p{M}/gu, "").split(/[^\p{L}\p{N}]+/u).filter(Boolean);
}

/**
 * Read a blink pattern: `2 long 4 short`, `2L4S`, `4 short`, `2-4`, `flashes 6 times`.
 * @param {string} text
 * @returns {string[]} patterns that it may mean, as `2L4S`; empty when it means none
 */
export function readBlinks(text) {
  let said = text.trim().toLowerCase();
  const bare = /^(\d{1,2})\s*[-–/,.+ ]\s*(\d{1,2})$/.exec(said);
  if (bare) return [`${+bare[1]}L${+bare[2]}S`];
  const shape = /^[-–—_.•·*\s]+$/.test(said) && /[.•·*]|[-–—_]/.test(said);
  if (shape) {
    const long = (said.match(/[-–—_]/g) || []).length;
    const short = (said.match(/[.•·*]/g) || []).length;
    return [`${long}L${short}S`];
  }
  said = said
    .replace(/(\d)\s*x(?![a-z])/g, "$1 ")
    .replace(/\b(blinks?|blinking|flash(es|ing)?|lamp|led)\b|\b(and|then|pause|times?|pulses?)\b/g, " ")
    .replace(/[,;+&×]/g, " ")
    .replace(/\bone\b/g, "1").replace(/\btwo\b/g, "2").replace(/\bthree\b/g, "3")
    .replace(/\bfour\b/g, "4").replace(/\bfive\b/g, "5").replace(/\bsix\b/g, "6")
    .replace(/\bseven\b/g, "7").replace(/\beight\b/g, "8").replace(/\bnine\b/g, "9")
    .replace(/long/g, "l").replace(/short/g, "s")
    .replace(/\s+/g, "");
  let found = /^(?:(\d{1,2})l)?(?:(\d{1,2})s)?$/.exec(said);
  if (said && found) return [`${+(found[1] || 0)}L${+(found[2] || 0)}S`];
  found = /^l(\d{1,2})(?:s(\d{1,2}))?$|^s(\d{1,2})$/.exec(said);
  if (said && found) return [`${+(found[1] || 0)}L${+(found[2] || found[3] || 0)}S`];
  // A bare count is a pattern only when somebody said that it is blinks.
  if (/^\d{1,2}$/.test(said) && /blink|flash|pulse|times/i.test(text)) {
    return [`0L${+said}S`, `${+said}L0S`];
  }
  return [];
}

/** What a display of seven strokes shows alike becomes one sign: O and 0, I and 1, S and 5, B and 8.
 * @param {string} flat */
function lookOf(flat) {
  return flat.replace(/[oilsb]/g, (sign) => ALIKE[sign]);
}

/** Is `b` what `a` becomes by one wrong, missing, extra or swapped letter?
 * @param {string} a @param {string} b @returns {boolean} */
export function oneSlip(a, b) {
  if (a === b || Math.abs(a.length - b.length) > 1) return false;
  let i = 0;
  while (i < a.length && i < b.length && a[i] === b[i]) i++;
  if (a.length === b.length) {
    if (a.slice(i + 1) === b.slice(i + 1)) return true;
    return a[i] === b[i + 1] && a[i + 1] === b[i] && a.slice(i + 2) === b.slice(i + 2);
  }
  return a.length < b.length ? a.slice(i) === b.slice(i + 1) : a.slice(i + 1) === b.slice(i);
}

/**
 * Prepare the index once, so that each keystroke only compares.
 * @param {IndexRaw} raw @returns {Item[]}
 */
export function openIndex(raw) {
  return raw.items.map((row, number) => {
    /** @type {Key[]} */
    const keys = [];
    for (let i = 0; i < row[4].length; i += 2) {
      const [type, text] = row[4].slice(i, i + 2);
      const flat = squeeze(text);
      keys.push({ type, text, flat, look: type === "code" ? lookOf(flat) : "" });
    }
    const context = raw.contexts[row[3]];
    const own = wordsOf(`${keys.map((key) => key.text).join(" ")} ${row[1]}`);
    const flats = keys.filter((k) => k.type !== "name").map((k) => k.flat);
    return {
      number, kind: raw.kinds[row[0]], title: row[1], url: row[2], context,
      keys, own: own.concat(flats), around: wordsOf(context),
    };
  });
}

/**
 * @param {string} flat what was typed, squeezed @param {string[]} words of it
 * @param {string[]} blinks that it may mean @param {Item} item
 */
function scoreOf(flat, words, blinks, item) {
  let best = Infinity;
  const look = lookOf(flat);
  for (const key of item.keys) {
    const weight = EXACT[key.type] === undefined ? 6 : EXACT[key.type];
    if (key.type === "blinks") {
      if (blinks.includes(key.text)) best = Math.min(best, weight);
      continue;
    }
    if (key.flat === flat) best = Math.min(best, weight);
    else if (key.flat.startsWith(flat)) best = Math.min(best, BEGINS + weight);
    // What only looks alike stands before what is another sign.
    else if (key.look === look) best = Math.min(best, SLIP + weight);
    else if (flat.length >= SHORTEST_SLIP && key.type !== "name" && oneSlip(flat, key.flat)) {
      best = Math.min(best, SLIP + weight + 1);
    } else if (flat.length >= SHORTEST_SLIP && key.flat.includes(flat)) {
      best = Math.min(best, INSIDE + weight);
    }
  }
  if (best > ALL_WORDS && words.length) best = Math.min(best, wordScore(words, item));
  return best;
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
  return typed.length > SHORTEST_SLIP && oneSlip(typed, word) ? 15 : Infinity;
}

/**
 * Find what was typed among the exact things.
 * @param {string} text
 * @param {Item[]} items from openIndex
 * @param {string} near the family whose page is open: its own come first among equals
 * @returns {Hit[]} best first
 */
export function matchItems(text, items, near) {
  const flat = squeeze(text);
  if (!flat) return [];
  const words = wordsOf(text);
  const blinks = readBlinks(text);
  /** @type {Hit[]} */
  const hits = [];
  for (const item of items) {
    const score = scoreOf(flat, words, blinks, item);
    if (score < Infinity) hits.push({ item, score, slip: score >= SLIP && score < INSIDE });
  }
  const exact = hits.some((hit) => hit.score < BEGINS);
  const far = (/** @type {Hit} */ { item }) => (item.context === near ? 0 : 1);
  // K1-2 is no slip of K4-2 when K4-2 is a code, nor is 100k4250: they would be in the way.
  return hits.filter((hit) => !exact || hit.score < SLIP)
    .sort((a, b) => a.score - b.score || far(a) - far(b) || a.item.number - b.item.number);
}
