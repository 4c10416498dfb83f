// What is typed stays on this phone, family by family, until it is cleared. Nothing is sent.
(function (Ohm) {
  "use strict";

  /**
   * @typedef {{at?: string, how?: string, reading?: string, meter?: string, thermometer?: string}}
   *   Typed temperature in °C, as text; kept by sensor, after a repair by `sensor@after`
   * @param {string} family
   */
  Ohm.kept = function (family) {
    var key = "ohm.typed." + family;

    function all() {
      try { return JSON.parse(Ohm.remembered(key) || "{}") || {}; } catch (broken) { return {}; }
    }
    function put(told) {
      Ohm.remember(key, Object.keys(told).length ? JSON.stringify(told) : null);
    }
    return {
      /** @returns {Object<string, Typed>} by sensor */
      all: all,
      /** @param {string} sensor @returns {Typed} */
      of: function (sensor) { return all()[sensor] || {}; },
      /** @param {string} sensor @param {?Typed} typed nothing forgets it */
      keep: function (sensor, typed) {
        var told = all();
        if (typed) { told[sensor] = typed; } else { delete told[sensor]; }
        put(told);
      },
      clear: function () { put({}); },
    };
  };
})((globalThis.Ohm = globalThis.Ohm || {}));
