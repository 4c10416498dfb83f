// What is typed stays on this phone, family by family, until it is cleared. Nothing is sent.

import { remember, remembered } from "../look.js";

/** One reading as typed, its temperature in °C as text. A reading of the round needs no thermometer.
 * @typedef {{at?: string, how?: string, reading?: string, meter?: string, thermometer?: string,
 *   round?: string}} Typed */
/** As typed; of windings, which share one temperature, each reading by its pair of leads.
 * @typedef {Typed & {readings?: Object<string, string>}} Kept */

/**
 * By sensor, after a repair by `sensor@after`; of a part by what was measured.
 * @param {string} family or part
 */
export function keptFor(family) {
  const key = `ohm.typed.${family}`;

  /** @returns {Object<string, Kept>} by sensor */
  function all() {
    try { return JSON.parse(remembered(key) || "{}") || {}; } catch (broken) { return {}; }
  }
  /** @param {Object<string, Kept>} typed */
  function put(typed) {
    remember(key, Object.keys(typed).length ? JSON.stringify(typed) : null);
  }
  return {
    all,
    /** @param {string} sensor @returns {Kept} */
    of(sensor) { return all()[sensor] || {}; },
    /** @param {string} sensor @param {?Kept} typed nothing forgets it */
    keep(sensor, typed) {
      const now = all();
      if (typed) now[sensor] = typed;
      else delete now[sensor];
      put(now);
    },
    clear() { put({}); },
  };
}
