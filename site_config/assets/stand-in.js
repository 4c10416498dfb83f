// Standard resistors to plug in place of a sensor. Mirrors kb/numbers/stand_in.py.
(function (Ohm) {
  "use strict";

  /** Further than this from the resistance wanted, the smaller of two no longer matters. */
  const REACH = 100;

  /**
   * One resistor, or two together, and what the board should then show.
   * @typedef {{partsOhm: number[], wired: string, rOhm: number, showsC: number,
   *   errorK: number}} StandIn wired: single, series or parallel
   */

  /** The nearest first; of equals the earlier. @returns {StandIn[]} */
  function nearest(standIns, best) {
    return standIns
      .map((one, i) => ({ one, i, away: Math.abs(one.errorK) }))
      .sort((a, b) => a.away - b.away || a.i - b.i)
      .slice(0, best)
      .map(({ one }) => one);
  }

  /**
   * @param {Ohm.Grid} grid
   * @param {{tC: number, series?: string, best?: number}} wanted the temperature to stand for; E12,
   *   E24 or E96; how many of each
   * @returns {{singles: StandIn[], pairs: StandIn[]}} the nearest first
   * @throws {Error} OutOfRange if the temperature is outside the curve's range
   */
  Ohm.standIns = function (grid, { tC, series = "E24", best = 3 }) {
    const wantedOhm = grid.ohm(tC);
    const values = Ohm.valuesOhm(series, { lowOhm: wantedOhm / REACH, highOhm: wantedOhm * REACH });
    const singles = [];
    const inSeries = [];
    const inParallel = [];
    const add = (list, wired, rOhm, partsOhm) => {
      if (!(rOhm >= grid.lowOhm && rOhm <= grid.highOhm)) return;
      const showsC = grid.tC(rOhm);
      list.push({ partsOhm, wired, rOhm, showsC, errorK: showsC - tC });
    };
    values.forEach((one, i) => {
      add(singles, "single", one, [one]);
      values.slice(i).forEach((other) => {
        add(inSeries, "series", one + other, [one, other]);
        add(inParallel, "parallel", (one * other) / (one + other), [one, other]);
      });
    });
    const pairs = [...nearest(inSeries, best), ...nearest(inParallel, best)];
    return { singles: nearest(singles, best), pairs: nearest(pairs, best) };
  };
})((globalThis.Ohm = globalThis.Ohm || {}));
