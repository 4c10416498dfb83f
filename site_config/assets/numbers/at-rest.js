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

function standing(state, figures) {
  return { state, tImpliedC: null, offK: null, limitK: null, uncertaintyK: null, ...figures };
}

function unreadable({ grid, rOhm, meterSpanOhm = Infinity }, shortOhm) {
  // A good part could be beyond this meter somewhere on its curve.
  if (rOhm === Infinity) return standing(grid.highOhm < meterSpanOhm ? "open" : "undecided");
  if (rOhm === 0 || rOhm < shortBelowOhm(grid, shortOhm)) return standing("short");
  return rOhm >= grid.lowOhm && rOhm <= grid.highOhm ? null : standing("off-curve");
}

/** Standard uncertainty in K of one sensor's place and reading. */
function ownK({ grid, meterHalfOhm = 0 }, tC, spreadHalfK) {
  return Math.hypot(meterHalfOhm / Math.abs(grid.slope(tC)), spreadHalfK) / Math.sqrt(3);
}

function stateOf(offK, limitK, uncertaintyK, few) {
  if (Math.abs(offK) <= Math.max(limitK, uncertaintyK)) return "agrees";
  return Math.abs(offK) > limitK + uncertaintyK && !few ? "stands-out" : "undecided";
}

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
  const { tC = null, thermometerHalfK = 0, spreadHalfK = SPREAD_HALF_K, shortOhm = null } = options;
  const byThermometer = tC !== null;
  const told = {};
  Object.keys(readings).forEach((name) => { told[name] = unreadable(readings[name], shortOhm); });
  const sound = Object.keys(readings).filter((name) => told[name] === null).map((name) => {
    const one = readings[name];
    const tImpliedC = one.grid.tC(one.rOhm);
    const limitK = Math.max(one.grid.tolK(tImpliedC), one.allowK || 0);
    // Where nobody knows how far the part may be off, nothing speaks for or against it.
    const limited = one.grid.toleranceKnown || (one.allowK || 0) > 0;
    return { name, tImpliedC, limitK, limited, ownK: ownK(one, tImpliedC, spreadHalfK) };
  });
  if (!sound.length || (!byThermometer && sound.length < 2)) {
    sound.forEach(({ name, tImpliedC }) => {
      told[name] = standing("undecided", { tImpliedC });
    });
    return { centreC: tC, byThermometer, standing: told };
  }
  let centreC = tC;
  let centreK = thermometerHalfK / Math.sqrt(3);
  if (!byThermometer) {
    centreC = median(sound.map((one) => one.tImpliedC));
    // Standard error of a median, each sensor off by its tolerance too.
    const eachK = sound.map((one) => Math.hypot(one.ownK, one.limitK / Math.sqrt(3)));
    centreK = Math.sqrt(Math.PI / 2 / sound.length) * median(eachK);
  }
  const few = !byThermometer && sound.length < 3;
  sound.forEach(({ name, tImpliedC, limitK, limited, ownK: own }) => {
    const offK = tImpliedC - centreC;
    const uncertaintyK = expandedK(own, centreK);
    const state = stateOf(offK, limitK, uncertaintyK, few || !limited);
    told[name] = standing(state, { tImpliedC, offK, limitK, uncertaintyK });
  });
  return { centreC, byThermometer, standing: told };
}
