// What every form does whose readings go to the job: keep what is typed, list what was read before,
// clear and bring back, begin another reading.

import { JOB_EVENT } from "../job/changed.js";
import { showEarlier } from "./earlier.js";
import { part } from "./element.js";
import { fieldsOf } from "./fields.js";
import { selectOnTap } from "./keys.js";
import { visitReading } from "./visit-reading.js";

/** @typedef {import("./earlier.js").Measurement} Measurement */
/**
 * what, of: as the job names the reading; readings: the fields that hold it; typed: what to keep of
 * them, null where nothing was read; line: one that was read before, in words; look: answer anew
 * and return the verdict, or nothing; at: the temperature, where there is one.
 * @typedef {{what: string, of: string,
 *   readings: Array<HTMLInputElement|HTMLSelectElement>, typed: function(): ?Object<string, any>,
 *   line: function(Measurement): string, look: function(): string,
 *   at: ?import("./placed-temperature.js").PlacedTemperature}} Visited
 */

/** @param {HTMLFormElement} form @returns {string[]} the machines that it belongs to */
export const familiesOf = (form) => (form.dataset.families || "").split(" ");

/**
 * @param {HTMLFormElement} form @param {Visited} own
 * @returns {{typed: function(): void, show: function(): void}} call typed when a field changed that
 *   is kept with the reading, show when only the answer is to be given anew
 */
export function visitForm(form, { what, of, readings, typed, line, look, at }) {
  const reading = visitReading({ families: familiesOf(form), what, of });
  const earlier = part(form, ".ohm-earlier");
  const keys = { clear: key(form, "clear"), undo: key(form, "undo"), again: key(form, "again") };
  /** @type {RadioNodeList} */
  const when = fieldsOf(form)[`${form.dataset.calc}-when`];
  /** What was cleared, until something else is typed.
   * @type {?string[]} */
  let cleared = null;
  let busy = false;

  /** Typing goes to the job, and the job's own news of that are no news here.
   * @param {?Object<string, any>} now @param {string} [state] the verdict on it */
  function keep(now, state = "") {
    busy = true;
    reading.keep(now && { typed: now, after: when.value === "after", state });
    busy = false;
  }

  function show() {
    look();
    around();
  }

  /** What stands around the fields follows from what they and the job hold. */
  function around() {
    const read = typed() !== null;
    keys.clear.hidden = !read;
    keys.again.hidden = !read;
    keys.undo.hidden = cleared === null;
    list();
  }

  /** @param {?Object<string, any>} now */
  function answerAndKeep(now) {
    const state = look();
    keep(now, state);
    around();
  }

  function list() {
    showEarlier(earlier, { family: reading.family(), what, of, line, but: [reading.id()] });
  }

  function typedNow() {
    cleared = null;
    answerAndKeep(typed());
  }

  /** @param {string[]} values one for each of the readings */
  function put(values) { readings.forEach((field, i) => { field.value = values[i]; }); }

  function empty() { put(readings.map(() => "")); }

  /** What is typed stays in the job; the next figure is another reading. */
  function another() {
    reading.another();
    cleared = null;
    empty();
    show();
  }

  /** Another machine, or the same after its repair: the temperature there nobody took yet. */
  function begin() {
    if (at) at.clear();
    another();
  }

  keys.clear.addEventListener("click", () => {
    cleared = readings.map(({ value }) => value);
    empty();
    keep(null);
    show();
    keys.undo.focus();
  });
  keys.undo.addEventListener("click", () => {
    put(cleared || []);
    typedNow();
    readings[0].focus();
  });
  keys.again.addEventListener("click", () => {
    another();
    readings[0].focus();
  });
  when.forEach((way) => way.addEventListener("change", begin));
  readings.forEach((field) => {
    field.addEventListener(field instanceof HTMLSelectElement ? "change" : "input", typedNow);
    if (field instanceof HTMLInputElement) selectOnTap(field);
  });
  document.addEventListener(JOB_EVENT, () => {
    if (busy) return;
    // What stands here was read at the machine before, and is kept there.
    if (reading.elsewhere()) begin();
    else list();
  });
  return {
    typed() {
      const now = typed();
      if (now) answerAndKeep(now);
      else show();
    },
    show,
  };
}

/** @param {HTMLFormElement} form @param {string} name */
function key(form, name) { return part(form, `[data-${name}]`); }
