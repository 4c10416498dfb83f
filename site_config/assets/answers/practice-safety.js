// Safe before hands go in. Mirrors kb/answers/practice_safety.py and kb/answers/practice_order.py.

import { MINUTES } from "../catalog.js";

/** @typedef {import("./practice-draw.js").PracticeMachine} PracticeMachine */

/** In this order; between locking and proving the charge takes its minutes. */
const STEPS = ["isolate", "lock", "prove"];
/** What each takes. Common practice, no source.
 * @type {Object<string, number>} */
export const STEP_MINUTES = { isolate: 2, lock: 1, prove: 3, power: 3 };
const LEFT_SHARE = 0.8;

/** @param {string[]} done @returns {string} the first that is still to do, or nothing */
export const nextSafeStep = (done) => STEPS.filter((step) => done.indexOf(step) < 0)[0] || "";

/** It falls exponentially, so that the notes' minutes bring it just below what counts as drained.
 * @param {PracticeMachine} machine @param {number} minutes after isolating
 * @returns {number} volts of the stored charge */
export function chargeLeftV({ chargeV, waitMin, drainedV }, minutes) {
  if (chargeV <= 0 || waitMin <= 0) return 0;
  const falls = Math.log(chargeV / (LEFT_SHARE * drainedV)) / waitMin;
  return chargeV * Math.exp(-falls * minutes);
}

/** @param {PracticeMachine} machine @param {{done: string[], minutes: number}} so far, and after isolating
 * @returns {{state: string, volts: number}} live, charged or dead, as the voltage tester says */
export function proveDead(machine, { done, minutes }) {
  if (done.indexOf("isolate") < 0) return { state: "live", volts: 0 };
  const volts = chargeLeftV(machine, minutes);
  return { state: volts < machine.drainedV ? "dead" : "charged", volts };
}

/** A code's suspects stand in the order of least expected time.
 * @param {import("./practice-draw.js").PracticeCode} code @param {{suspect: number}} where it is
 * @returns {{minutes: number[], expectedMin: number, foundMin: number}} all minutes up to and with
 *   each check; on average over all that it may be; until this fault is found */
export function bestOrder({ suspects }, { suspect }) {
  let soFar = 0;
  const minutes = suspects.map((row) => { soFar += row.minutes; return soFar; });
  const every = suspects.reduce((sum, row) => sum + row.share, 0);
  const weighed = suspects.reduce((sum, row, i) => sum + row.share * minutes[i], 0);
  return { minutes, expectedMin: weighed / every, foundMin: minutes[suspect] };
}

/** @param {number} ownMin its check as the notes say, a thermometer held on beside it
 * @param {{placement: string, again: boolean}} how again: its plug is off already
 * @returns {number} the minutes of reading a sensor */
export function readingMinutes(ownMin, { placement, again }) {
  const wayMin = placement in MINUTES ? MINUTES[placement] : MINUTES["held-on"];
  return again ? wayMin : ownMin + wayMin - MINUTES["held-on"];
}
