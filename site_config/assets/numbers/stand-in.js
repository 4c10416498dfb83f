// Standard resistors to plug in place of a sensor. Mirrors kb/numbers/stand_in.py.

import { valuesOhm } from "./e-series.js";

/** @typedef {import("./grid.js").Grid} Grid */

/** Further than this from the resistance wanted, the smaller of two no longer matters. */
const REACH = 100;
const SLACK = 1e-9;

/**
 * One resistor, or two together, and what the board should then show.
 * @typedef {{partsOhm: number[], wired: string, rOhm: number, showsC: number,
 *   errorK: number}} StandIn wired: single, series or parallel
 */

/** Put one into a list of the best, the nearest first; of equals the earlier stays ahead.
 * @param {StandIn[]} list @param {StandIn} found @param {number} best how many stay */
function keep(list, found, best) {
  const away = Math.abs(found.errorK);
  let at = list.length;
  while (at > 0 && away < Math.abs(list[at - 1].errorK)) at -= 1;
  list.splice(at, 0, found);
  if (list.length > best) list.pop();
}

/** @param {Grid} grid @param {number} tC @param {number} offK
 * @returns {number[]} lowest and highest Ω of the curve so near, a rounding error wider */
function nearOhm(grid, tC, offK) {
  const ends = [grid.beyondOhm(tC - offK), grid.beyondOhm(tC + offK)];
  return [Math.max(grid.lowOhm, Math.min(...ends) * (1 - SLACK)),
    Math.min(grid.highOhm, Math.max(...ends) * (1 + SLACK))];
}

/**
 * @param {Grid} grid
 * @param {{tC: number, series?: string, best?: number}} wanted the temperature to stand for; E12,
 *   E24 or E96; how many of each
 * @returns {{singles: StandIn[], pairs: StandIn[]}} the nearest first
 * @throws {OutOfRange} if the temperature is outside the curve's range
 */
export function standIns(grid, { tC, series = "E24", best = 3 }) {
  const wantedOhm = grid.ohm(tC);
  const values = valuesOhm(series, { lowOhm: wantedOhm / REACH, highOhm: wantedOhm * REACH });
  /** @type {Object<string, StandIn[]>} */
  const found = { single: [], series: [], parallel: [] };
  /** What may still be nearer than those found: most of a fine series is passed over unasked.
   * @type {Object<string, number[]>} */
  const nearerOhm = {};
  /** @param {string} wired @param {number} rOhm @param {number[]} partsOhm */
  const offer = (wired, rOhm, partsOhm) => {
    const [lowOhm, highOhm] = nearerOhm[wired] || [grid.lowOhm, grid.highOhm];
    if (!(rOhm >= lowOhm && rOhm <= highOhm)) return;
    const showsC = grid.tC(rOhm);
    const list = found[wired];
    keep(list, { partsOhm, wired, rOhm, showsC, errorK: showsC - tC }, best);
    if (list.length === best) nearerOhm[wired] = nearOhm(grid, tC, Math.abs(list[best - 1].errorK));
  };
  values.forEach((partOhm, i) => {
    offer("single", partOhm, [partOhm]);
    for (let j = i; j < values.length; j++) {
      const otherOhm = values[j];
      offer("series", partOhm + otherOhm, [partOhm, otherOhm]);
      offer("parallel", (partOhm * otherOhm) / (partOhm + otherOhm), [partOhm, otherOhm]);
    }
  });
  /** @type {StandIn[]} */
  const pairs = [];
  [...found.series, ...found.parallel].forEach((pair) => keep(pairs, pair, best));
  return { singles: found.single, pairs };
}
