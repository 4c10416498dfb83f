// What was practised on this phone, and when it is due again. Nothing of it is ever sent.

import { alike, remember, remembered } from "../look.js";
import { dayNumber, movedBox } from "./boxes.js";

/**
 * One drill, or one machine of the practice machine, that was answered.
 * time: ISO 8601; kind: a kind of drill, or `machine`; family: id, or "" for none; about: the entry
 * that it asked about, as `sensors/r4`; seed and place: which drill of which set; right; minutes:
 * those of the notes that a practice machine cost, 0 for a drill.
 * @typedef {{time: string, kind: string, family: string, about: string, seed: number, place: number,
 *   right: boolean, minutes: number}} Practised
 * @typedef {import("./boxes.js").Box} Box
 * boxes: by kind and entry, as `ohm sensors/r4`.
 * @typedef {{done: Practised[], boxes: Object<string, Box>}} Practice
 */

const KEY = "ohm.practised";
/** What stood there and could not be read is kept aside: somebody may want to mend it. */
const SPOILT = "ohm.practised.spoilt";
/** So many answers are kept, the newest: a year of a set each week. */
const MOST = 520;
const PRACTISED = {
  time: "", kind: "", family: "", about: "", seed: 0, place: 0, right: true, minutes: 0,
};
const BOX = { box: 0, due: 0 };

/** @type {?Practice} what this page knows where the phone keeps nothing */
let held = null;

/** @param {Practised} practised @returns {string} what it is kept under among the boxes */
export const boxKey = ({ kind, about }) => `${kind} ${about}`;

/** @param {any} row @returns {boolean} */
const isPractised = (row) => alike(row, PRACTISED) && !isNaN(Date.parse(row.time));

/** @param {any} box @returns {boolean} */
const isBox = (box) => alike(box, BOX) && isFinite(box.box) && isFinite(box.due);

/** @returns {any} what is kept, whatever it is; undefined where nothing is, or it is no JSON */
function kept() {
  try { return JSON.parse(remembered(KEY) || "{}"); } catch (broken) { return undefined; }
}

/** @returns {Practice} oldest first; what is spoilt is left out, what stands beside it is not */
export function practice() {
  if (held) return held;
  const found = kept();
  const { done, boxes } = alike(found, {}) ? found : { done: [], boxes: {} };
  /** @type {Object<string, Box>} */
  const sound = {};
  if (alike(boxes, {})) {
    Object.keys(boxes).filter((key) => isBox(boxes[key])).forEach((key) => { sound[key] = boxes[key]; });
  }
  return { done: Array.isArray(done) ? done.filter(isPractised) : [], boxes: sound };
}

/** @param {Practice} practised */
function keep(practised) {
  if (!alike(kept(), {})) remember(SPOILT, remembered(KEY));
  const text = JSON.stringify(practised);
  remember(KEY, text);
  // A phone may refuse to keep anything: then this page alone remembers.
  held = remembered(KEY) === text ? null : practised;
}

/** @param {Practised} practised @param {Date} [now] */
export function addPractised(practised, now = new Date()) {
  const { done, boxes } = practice();
  const key = boxKey(practised);
  boxes[key] = movedBox(boxes[key] || null, practised.right, dayNumber(now));
  keep({ done: [...done, practised].slice(-MOST), boxes });
}

/** @param {Date} [now] @returns {string[]} what is due today, the longest first, as boxKey names it */
export function dueToday(now = new Date()) {
  const { boxes } = practice();
  const today = dayNumber(now);
  return Object.keys(boxes).filter((key) => boxes[key].due <= today)
    .sort((a, b) => boxes[a].due - boxes[b].due || (a < b ? -1 : 1));
}

/** Forget all that was practised on this phone. */
export function forgetPractice() {
  held = null;
  remember(KEY, null);
  remember(SPOILT, null);
}

/** @returns {boolean} whether this phone keeps what is practised */
export const practiceIsKept = () => held === null;
