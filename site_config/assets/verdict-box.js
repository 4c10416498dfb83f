// Show a verdict in shape, word and colour together: a box for one reading, a badge for a row.
(function (Ohm) {
  "use strict";

  /** State of a sensor among the others → the verdict whose shape and colour it takes. */
  var AS = { agrees: "within", "stands-out": "outside" };
  var AMONG = { agrees: "Agrees", "stands-out": "Stands out" };

  function shape(sign) {
    var made = Ohm.el("span", "ohm-verdict-shape", sign);
    made.setAttribute("aria-hidden", "true");
    return made;
  }

  /** @param {string} state a verdict or a standing @returns {string} its word */
  Ohm.verdictWord = function (state) { return AMONG[state] || Ohm.VERDICT_WORDS[state][0]; };

  /**
   * @param {string} state a verdict or a standing @param {string} why one sentence
   * @param {string} [word] in place of the usual one
   * @returns {Element}
   */
  Ohm.verdictBox = function (state, why, word) {
    var as = AS[state] || state;
    var box = Ohm.el("div", "ohm-verdict",
      Ohm.el("p", "ohm-verdict-word", shape(Ohm.VERDICT_WORDS[as][1]), " " + (word || Ohm.verdictWord(state))),
      Ohm.el("p", "ohm-verdict-why", why));
    box.dataset.verdict = as;
    return box;
  };

  /** @param {string} state a verdict or a standing @returns {Element} small enough for a row */
  Ohm.verdictBadge = function (state) {
    var as = AS[state] || state;
    var made = Ohm.el("span", "ohm-badge", shape(Ohm.VERDICT_WORDS[as][1]), " " + Ohm.verdictWord(state));
    made.dataset.verdict = as;
    return made;
  };
})((globalThis.Ohm = globalThis.Ohm || {}));
