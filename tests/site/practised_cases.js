// What was practised on a phone: boxes of doubling days, and storage that is spoilt or refuses.

import assert from "node:assert";
import test from "node:test";

/** @type {Map<string, string>} */
const kept = new Map();
let refuses = false;
globalThis.localStorage = /** @type {any} */ ({
  getItem: (/** @type {string} */ key) => {
    if (refuses) throw new Error("refused");
    return kept.has(key) ? kept.get(key) : null;
  },
  setItem: (/** @type {string} */ key, /** @type {string} */ value) => {
    if (refuses) throw new Error("refused");
    kept.set(key, value);
  },
  removeItem: (/** @type {string} */ key) => { kept.delete(key); },
});
globalThis.document = /** @type {any} */ ({
  querySelector: () => ({ media: "" }), documentElement: { className: "" },
});
globalThis.matchMedia = /** @type {any} */ (() => ({ matches: false }));

const { dayNumber, dayText, movedBox } = await import("../../site_config/assets/learn/boxes.js");
const {
  addPractised, dueToday, forgetPractice, practice, practiceIsKept,
} = await import("../../site_config/assets/learn/practised.js");

const KEY = "ohm.practised";
const SPOILT = "ohm.practised.spoilt";
const MONDAY = new Date(2026, 2, 2, 23, 30);
const later = (/** @type {number} */ days) => new Date(2026, 2, 2 + days, 0, 30);
const row = (/** @type {boolean} */ right, about = "sensors/r4") => ({
  time: MONDAY.toISOString(), kind: "ohm", family: "a", about, seed: 7, place: 1, right, minutes: 0,
});

test.beforeEach(() => { refuses = false; forgetPractice(); kept.clear(); });

test("a day is the calendar's, whatever the hour", () => {
  assert.strictEqual(dayNumber(later(1)) - dayNumber(MONDAY), 1);
  assert.strictEqual(dayText(MONDAY), "2026-03-02");
});

test("right waits twice as long each time, wrong starts anew", () => {
  let [box, day] = [null, 100];
  const waits = [2, 4, 8, 16, 32, 32].map((days) => {
    box = movedBox(box, true, day);
    const wait = box.due - day;
    assert.strictEqual(wait, days);
    day = box.due;
    return wait;
  });
  assert.strictEqual(waits.length, 6);
  assert.deepStrictEqual(movedBox(box, false, day), { box: 0, due: day });
});

test("what comes right before it is due stays where it is", () => {
  const box = movedBox(null, true, 100);
  assert.deepStrictEqual(movedBox(box, true, 101), box);
});

test("what was wrong is due the same day, what was right two days later", () => {
  addPractised(row(false), MONDAY);
  addPractised(row(true, "sensors/r5"), MONDAY);
  assert.deepStrictEqual(dueToday(MONDAY), ["ohm sensors/r4"]);
  assert.deepStrictEqual(dueToday(later(1)), ["ohm sensors/r4"]);
  assert.deepStrictEqual(dueToday(later(2)), ["ohm sensors/r4", "ohm sensors/r5"]);
  assert.strictEqual(practice().done.length, 2);
});

test("only the newest answers are kept", () => {
  for (let i = 0; i < 530; i += 1) addPractised(row(true, `sensors/${i}`), MONDAY);
  const { done } = practice();
  assert.strictEqual(done.length, 520);
  assert.strictEqual(done[519].about, "sensors/529");
});

test("a spoilt row is left out and what stands beside it is not", () => {
  const sound = row(true);
  kept.set(KEY, JSON.stringify({
    done: [null, 3, sound, { ...sound, right: "yes" }, { ...sound, time: "never" }],
    boxes: { a: null, b: { box: 1 }, c: { box: 1, due: 5 } },
  }));
  assert.deepStrictEqual(practice(), { done: [sound], boxes: { c: { box: 1, due: 5 } } });
});

for (const value of ["null", "3", '"x"', "[]", "{}", "[null]", '{"done": 3}', '{"boxes": []}', "{", "\ufeff"]) {
  test(`whatever stands there can be read: ${value}`, () => {
    kept.set(KEY, value);
    assert.deepStrictEqual(practice(), { done: [], boxes: {} });
    addPractised(row(true), MONDAY);
    assert.strictEqual(practice().done.length, 1);
  });
}

test("what cannot be read at all is kept aside", () => {
  kept.set(KEY, "{ half");
  addPractised(row(true), MONDAY);
  assert.strictEqual(kept.get(SPOILT), "{ half");
  forgetPractice();
  assert.strictEqual(kept.size, 0);
});

test("a phone that keeps nothing remembers for as long as the page is open", () => {
  refuses = true;
  addPractised(row(false), MONDAY);
  assert.strictEqual(practiceIsKept(), false);
  assert.deepStrictEqual(dueToday(MONDAY), ["ohm sensors/r4"]);
});
