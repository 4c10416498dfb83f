// A machine at rest: do all its sensors agree? Mirrors kb/numbers/at_rest.py.

import { expandedK, shortBelowOhm } from "./verdict.js";

/** @typedef {import("./grid.js").Grid} Grid */

/** How far two places of a machine at rest may differ in K. Common practice, no source. */
export const SPREAD_HALF_K = 1;

/**
 * @typedef {{grid: Grid, rOhm: number, meterHalfOhm?: number, allowK?: number,
 *   meterSpanOhm?: number}} Resting
 * @typedef {{state: string, tImpliedC: ?number, offK: ?number, limitK: ?number,
 *   uncertaintyK: ?number}} Standing
 *   state: agrees, stands-out, undecided, open, short or off-curve
 */

/** @param {string} state @param {Partial<Standing>} [figures] @returns {Standing} */
function standing(state, figures) {
  return { state, tImpliedC: null, offK: null, limitK: null, uncertaintyK: null, ...figures };
}

/** @param {Resting} resting @param {?number} shortOhm
 * @returns {?Standing} null where the reading is a temperature of the curve */
function unreadable({ grid, rOhm, meterSpanOhm = Infinity }, shortOhm) {
  // A good part could be beyond this meter somewhere on its curve.
  if (rOhm === Infinity) return standing(grid.highOhm < meterSpanOhm ? "open" : "undecided");
  if (rOhm === 0 || rOhm < shortBelowOhm(grid, shortOhm)) return standing("short");
  return rOhm >= grid.lowOhm && rOhm <= grid.highOhm ? null : standing("off-curve");
}

/** @param {Resting} resting @param {number} tC @param {number} spreadHalfK
 * @returns {number} standard uncertainty in K of one sensor's place and reading */
function ownK({ grid, meterHalfOhm = 0 }, tC, spreadHalfK) {
  return Math.hypot(meterHalfOhm / Math.abs(grid.slope(tC)), spreadHalfK) / Math.sqrt(3);
}

/** @param {number} offK @param {number} limitK @param {number} uncertaintyK
 * @param {boolean} few nobody stands out of so few */
function stateOf(offK, limitK, uncertaintyK, few) {
  if (Math.abs(offK) <= Math.max(limitK, uncertaintyK)) return "agrees";
  return Math.abs(offK) > limitK + uncertaintyK && !few ? "stands-out" : "undecided";
}

/** @param {number[]} values at least one */
function median(values) {
  const rising = values.slice().sort((a, b) => a - b);
  const middle = rising.length >> 1;
  return rising.length % 2 ? rising[middle] : (rising[middle - 1] + rising[middle]) / 2;
}

/**
 * @param {Object<string, Resting>} readings by sensor
 * @param {{tC?: ?number, thermometerHalfK?: number, spreadHalfK?: number, shortOhm?: ?number}}
 *   [options] a thermometer's reading; without it the median of the sensors is the centre;
 *   below how many ohms it is a short
 * @returns {{centreC: ?number, byThermometer: boolean, standing: Object<string, Standing>}}
 */
export function atRest(readings, options = {}) {
  const { tC = null, thermometerHalfK = 0, spreadHalfK = SPREAD_HALF_K } = options;
  const { shortOhm = null } = options;
  const byThermometer = tC !== null;
  /** @type {Object<string, Standing>} */
  const standings = {};
  Object.keys(readings).forEach((name) => {
    const state = unreadable(readings[name], shortOhm);
    if (state) standings[name] = state;
  });
  const sound = Object.keys(readings).filter((name) => !standings[name]).map((name) => {
    const reading = readings[name];
    const tImpliedC = reading.grid.tC(reading.rOhm);
    const limitK = Math.max(reading.grid.tolK(tImpliedC), reading.allowK || 0);
    // Where nobody knows how far the part may be off, nothing speaks for or against it.
    const limited = reading.grid.toleranceKnown || (reading.allowK || 0) > 0;
    return { name, tImpliedC, limitK, limited, ownK: ownK(reading, tImpliedC, spreadHalfK) };
  });
  if (!sound.length || (!byThermometer && sound.length < 2)) {
    sound.forEach(({ name, tImpliedC }) => {
      standings[name] = standing("undecided", { tImpliedC });
    });
    return { centreC: tC, byThermometer, standing: standings };
  }
  const centreC = tC === null ? median(sound.map((sensor) => sensor.tImpliedC)) : tC;
  let centreK = thermometerHalfK / Math.sqrt(3);
  if (!byThermometer) {
    // Standard error of a median, each sensor off by its tolerance too.
    const eachK = sound.map((sensor) => Math.hypot(sensor.ownK, sensor.limitK / Math.sqrt(3)));
    centreK = Math.sqrt(Math.PI / 2 / sound.length) * median(eachK);
  }
  const few = !byThermometer && sound.length < 3;
  sound.forEach(({ name, tImpliedC, limitK, limited, ownK: own }) => {
    const offK = tImpliedC - centreC;
    const uncertaintyK = expandedK(own, centreK);
    const state = stateOf(offK, limitK, uncertaintyK, few || !limited);
    standings[name] = standing(state, { tImpliedC, offK, limitK, uncertaintyK });
  });
  return { centreC, byThermometer, standing: standings };
}
