// Read what people type: ohms, a meter's OL, temperatures. Mirrors kb/numbers/notation.py.
// Arithmetic only: nothing here touches the page.
(function (Ohm) {
  "use strict";

  var TIMES = { "": 1, R: 1, k: 1e3, M: 1e6, G: 1e9 };
  var UNIT = "(?:[\u03a9\u2126\u03c9]|ohms?)";
  var DIGITS = "(?:\\d{1,3}(?: \\d{3})+|\\d+)";
  var PLAIN = new RegExp(
    "^([1-9]\\d{0,2}(?:,\\d{3})+|" + DIGITS + "(?:[.,]\\d*)?|[.,]\\d+)(e[+-]?\\d+)? ?([RkMG]?) ?" +
      UNIT + "?$", "i");
  var LETTER = new RegExp("^(\\d*)([RkMG])(\\d+) ?" + UNIT + "?$", "i");
  var GROUPED = /^[1-9]\d{0,2}(,\d{3})+$/;
  var OPEN = new RegExp(
    "^[>+]?(?:[O0]\\.?L\\.?|open|open circuit|over ?range|\u221e|inf(?:inity)?) ?[kM]?" + UNIT +
      "?$", "i");
  var TEMPERATURE = /^([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)) ?(?:[°º]|deg)? ?([CFK]?)$/i;
  var SOME_OHM = "write it as 480, 6.32k, 6k32 or 1.2M";
  var SOME_T = "write it as 7, -10 or 7.5";

  /** @param {string} text @returns {string} one kind of minus, one kind of space */
  function tidy(text) {
    return text.replace(/[−–]/g, "-").replace(/\s+/g, " ").trim();
  }

  /** @param {string} word why it cannot be read @returns {Error} */
  function refuse(word) {
    var error = new Error(word);
    error.name = "Unreadable";
    return error;
  }

  /**
   * @param {string} letter @param {string} text
   * @returns {number} what the letter multiplies by
   */
  function multiplier(letter, text) {
    if (letter === "m") {
      throw refuse("“" + text + "” could be milliohms or megohms; write M for megohms");
    }
    return TIMES[letter === "k" || letter === "K" ? "k" : letter.toUpperCase()];
  }

  /**
   * @param {string} text what was typed
   * @returns {number} ohms, not below zero
   * @throws {Error} Unreadable, with what would work
   */
  Ohm.parseOhm = function (text) {
    var said = tidy(text);
    if (said.charAt(0) === "-") {
      throw refuse("“" + text + "” is below zero; a resistance is not: " + SOME_OHM);
    }
    var letter = LETTER.exec(said);
    if (letter) {
      return Number((letter[1] || "0") + "." + letter[3]) * multiplier(letter[2], text);
    }
    var plain = PLAIN.exec(said);
    if (!plain) {
      if (OPEN.test(said)) {
        throw refuse("“" + text + "” is an open circuit, not a resistance; " + SOME_OHM);
      }
      throw refuse("“" + text + "” is not a resistance; " + SOME_OHM);
    }
    var times = multiplier(plain[3], text);
    if (!plain[3] && GROUPED.test(plain[1])) {
      throw refuse("“" + text + "” could have a decimal comma or a comma for thousands; write " +
        plain[1].replace(/,/g, "") + " or " + plain[1].replace(",", "."));
    }
    return Number(plain[1].replace(/ /g, "").replace(",", ".") + (plain[2] || "")) * times;
  };

  /**
   * @param {string} text a meter's display
   * @returns {number} ohms; Infinity for OL
   * @throws {Error} Unreadable
   */
  Ohm.parseReading = function (text) {
    return OPEN.test(tidy(text)) ? Infinity : Ohm.parseOhm(text);
  };

  /**
   * @param {string} text @param {string} [unit] "C" or "F": what a bare number is in
   * @returns {number} °C
   * @throws {Error} Unreadable
   */
  Ohm.parseTemperature = function (text, unit) {
    var found = TEMPERATURE.exec(tidy(text));
    if (!found) {
      throw refuse("“" + text + "” is not a temperature; " + SOME_T);
    }
    var given = (found[2] || unit || "C").toUpperCase();
    if (given === "K") {
      throw refuse("“" + text + "” is in kelvin; " + SOME_T);
    }
    var number = Number(found[1].replace(",", "."));
    var tC = given === "F" ? ((number - 32) * 5) / 9 : number;
    if (tC < -273.15) {
      throw refuse("“" + text + "” is below absolute zero; " + SOME_T);
    }
    return tC;
  };
})((globalThis.Ohm = globalThis.Ohm || {}));
