// Say a verdict in words: one plain sentence first, then what would settle it. No arithmetic here.
(function (Ohm) {
  "use strict";

  /** Verdict → the word of the trade and a shape, so that colour is never alone. */
  Ohm.VERDICT_WORDS = {
    within: ["Within limits", "✓"],
    outside: ["Outside limits", "✕"],
    undecided: ["Not decided", "?"],
    open: ["Open circuit", "∞"],
    short: ["Short circuit", "0"],
    "off-curve": ["Off the curve", "✕"],
  };

  var TERM = {
    meter: "the meter",
    thermometer: "the thermometer",
    placement: "how the temperature was taken",
  };
  var MEND = {
    meter: "a better meter",
    thermometer: "a better thermometer",
    placement: "ice water, or strapping and lagging the thermometer beside the sensor",
  };

  function t(tC) { return Ohm.formatT(tC, Ohm.unit.now(), 1); }
  function k(differenceK) { return Ohm.formatK(Math.abs(differenceK), Ohm.unit.now()); }

  /**
   * @param {object} v a verdict @param {{tC: number, rOhm: number}} asked
   * @returns {string} one sentence saying why
   */
  Ohm.sayVerdict = function (v, asked) {
    var side = v.errorK < 0 ? "colder" : "hotter";
    switch (v.verdict) {
      case "open":
        return "Over range: the circuit is broken, in the sensor, its lead or the plug.";
      case "short":
        return "Almost nothing: the two wires touch, or water bridges them.";
      case "off-curve":
        return "No sensor of this curve reads " + Ohm.formatOhm(asked.rOhm) + " at any temperature it holds for.";
      case "within":
        return "It reads as at " + t(v.tImpliedC) + ", " + k(v.errorK) + " from the " + t(asked.tC) +
          " you measured; that is allowed.";
      case "outside":
        return "It reads as at " + t(v.tImpliedC) + ", " + k(v.errorK) + " " + side + " than the " +
          t(asked.tC) + " you measured; more than is allowed.";
      default:
        if (v.tImpliedC === null) {
          return "Over range on this meter, but a good part could be beyond it today: use a meter that reaches further.";
        }
        if (!v.limitKnown) {
          return "It reads as at " + t(v.tImpliedC) + ", " + k(v.errorK) +
            " off, but nobody knows how far this part may be off.";
        }
        return "It reads as at " + t(v.tImpliedC) + ", " + k(v.errorK) + " " + side +
          " than the " + t(asked.tC) + " you measured: too close to call with these instruments.";
    }
  };

  /**
   * @param {object} v a verdict that is undecided
   * @returns {string} what would settle it; nothing when there is nothing to say
   */
  Ohm.saySettling = function (v) {
    if (v.verdict !== "undecided" || !v.settling) { return ""; }
    var needed = "The uncertainty must come below " + k(v.settling.neededK) + ". ";
    if (!v.settling.meterCan) {
      return needed + "This meter cannot decide this reading, however well the temperature is known.";
    }
    var largest = v.dominant ? "Most of it is " + TERM[v.dominant] + ". " : "";
    if (v.settling.terms.length) {
      return needed + largest + "It would be settled by " + MEND[v.settling.terms[0]] + ".";
    }
    return needed + largest + "Improve more than one of meter, thermometer and how it is taken.";
  };

  /**
   * @param {object} one an explanation that would also fit
   * @param {function(string): string} whose the label of a sensor that has a curve
   * @returns {string}
   */
  Ohm.sayExplanation = function (one, whose) {
    var there = t(one.tImpliedC) + ", " + k(one.errorK) + " off";
    var figures = one.figures;
    switch (one.kind) {
      case "unit-slip":
        return (figures.times > 1 ? "ohms typed where the meter showed kilohms: "
          : "kilohms typed where the meter showed ohms: ") + there;
      case "factor-ten":
        return "a decimal point misread, ten times too " + (figures.times > 1 ? "low: " : "high: ") + there;
      case "other-curve":
        return "the curve of " + whose(figures.curve) + " (wrong part, or plugs exchanged): " + there;
      case "plugged-in":
        return "still plugged in, " + Ohm.formatOhm(figures.sensorOhm) + " beside the board's " +
          Ohm.formatOhm(figures.pullUpOhm) + ": " + there;
      default:
        return Ohm.formatOhm(figures.seriesOhm, 2) + " in series, as of a bad contact or joint";
    }
  };
})((globalThis.Ohm = globalThis.Ohm || {}));
