// The one place where the page rounds. Mirrors kb/numbers/rounding.py.
(function (Ohm) {
  "use strict";

  var SCALES = [[1e9, "GΩ"], [1e6, "MΩ"], [1e3, "kΩ"]];
  var SPACE = "\u00a0";

  /** @param {string} text @returns {string} with a true minus and never minus zero */
  function minus(text) {
    return (Number(text) === 0 ? text.replace("-", "") : text).replace("-", "−");
  }

  /** @param {number} value @param {number} digits @returns {string} that many significant digits */
  function signed(value, digits) {
    if (value === 0) { return "0"; }
    var rounded = Number(value.toPrecision(digits));
    var exponent = Math.floor(Math.log10(Math.abs(rounded)) + 1e-12);
    return minus(rounded.toFixed(Math.max(0, digits - 1 - exponent)));
  }

  /** @param {number} rOhm @param {number} [digits] @returns {string} such as 6.320 kΩ; OL */
  Ohm.formatOhm = function (rOhm, digits) {
    digits = digits || 4;
    if (rOhm === Infinity) { return "OL"; }
    if (rOhm === 0) { return "0" + SPACE + "Ω"; }
    var rounded = Number(rOhm.toPrecision(digits));
    var scale = SCALES.find(function (one) { return Math.abs(rounded) >= one[0]; }) || [1, "Ω"];
    return signed(rounded / scale[0], digits) + SPACE + scale[1];
  };

  /** @param {number} lowOhm @param {number} highOhm @returns {string} such as 11.95 to 12.23 kΩ */
  Ohm.formatOhmSpan = function (lowOhm, highOhm) {
    var low = Ohm.formatOhm(lowOhm), high = Ohm.formatOhm(highOhm);
    var at = low.indexOf(SPACE);
    var unit = low.slice(at);
    var shared = at > 0 && high.slice(-unit.length) === unit;
    return (shared ? low.slice(0, at) : low) + " to " + high;
  };

  /** @param {number} tC @param {string} unit "C" or "F" @param {number} decimals */
  Ohm.formatT = function (tC, unit, decimals) {
    var value = unit === "F" ? (tC * 9) / 5 + 32 : tC;
    return minus(value.toFixed(decimals)) + SPACE + "°" + unit;
  };

  /** @param {number} differenceK @param {string} unit "C" or "F" @param {number} [digits] */
  Ohm.formatK = function (differenceK, unit, digits) {
    digits = digits || 2;
    var value = unit === "F" ? (differenceK * 9) / 5 : differenceK;
    var text = Math.abs(value) >= Math.pow(10, digits - 1)
      ? minus(String(Math.round(value)))
      : signed(value, digits);
    return text + SPACE + (unit === "F" ? "°F" : "K");
  };
})((globalThis.Ohm = globalThis.Ohm || {}));
