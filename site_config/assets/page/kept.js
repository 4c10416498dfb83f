// What is typed stays on this phone, family by family, until it is cleared. Nothing is sent.

import { remember, remembered } from "../look.js";

/**
 * @typedef {{at?: string, how?: string, reading?: string, meter?: string, thermometer?: string}}
 *   Typed temperature in °C, as text; kept by sensor, after a repair by `sensor@after`
 * @param {string} family
 */
export function keptFor(family) {
  const key = `ohm.typed.${family}`;

  function all() {
    try { return JSON.parse(remembered(key) || "{}") || {}; } catch (broken) { return {}; }
  }
  function put(told) {
    remember(key, Object.keys(told).length ? JSON.stringify(told) : null);
  }
  return {
    /** @returns {Object<string, Typed>} by sensor */
    all,
    /** @param {string} sensor @returns {Typed} */
    of(sensor) { return all()[sensor] || {}; },
    /** @param {string} sensor @param {?Typed} typed nothing forgets it */
    keep(sensor, typed) {
      const told = all();
      if (typed) { told[sensor] = typed; } else { delete told[sensor]; }
      put(told);
    },
    clear() { put({}); },
  };
}
