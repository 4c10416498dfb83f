// Judge what was typed for one sensor, wherever it was typed. No page is touched here.
(function (Ohm) {
  "use strict";

  /** A reading of the round needs no thermometer, but then no limits hold for it alone. */
  function untimed() {
    var error = new Error("no temperature was taken with it");
    error.name = "Unreadable";
    return error;
  }

  /**
   * @param {{curve: string, allow_k: number}} sensor
   * @param {{at: string, how: string, reading: string, meter: string, thermometer: string}} typed
   *   temperature in °C
   * @returns {{tC: number, rOhm: number, measured: object, verdict: object}}
   * @throws {Error} Unreadable or OutOfRange, with words for the reader
   */
  Ohm.judgeTyped = function (sensor, typed) {
    var team = globalThis.OhmTeam;
    if (typed.at === undefined) { throw untimed(); }
    var tC = Number(typed.at);
    var rOhm = Ohm.parseReading(typed.reading);
    var measured = Ohm.taken(rOhm, {
      tC: tC,
      meter: team.meters[typed.meter],
      thermometer: team.thermometers[typed.thermometer],
      placement: typed.how,
    });
    var verdict = Ohm.judge(Ohm.curve(sensor.curve), measured, {
      allowK: sensor.allow_k,
      shortOhm: team.short_ohm,
    });
    return { tC: tC, rOhm: rOhm, measured: measured, verdict: verdict };
  };
})((globalThis.Ohm = globalThis.Ohm || {}));
