// Outside limits: what else would read so? Mirrors kb/numbers/explanations.py, without its words.

import { sensorFromParallelOhm } from "./divider.js";
import { PULL_UP_SHARE } from "./plug-volts.js";
import { measurement } from "./instruments.js";
import { OutOfRange } from "./out-of-range.js";
import { judge } from "./verdict.js";

/** @typedef {import("./grid.js").Grid} Grid */
/** @typedef {import("./instruments.js").Measured} Measured */
/** @typedef {import("./verdict.js").Verdict} Verdict */

/** A contact worse than half the sensor's own resistance is not believable. Common practice. */
const SERIES_SHARE_MAX = 0.5;
/** @type {Array<[number, Slip["kind"]]>} */
export const SLIPS = [
  [1000, "unit-slip"], [0.001, "unit-slip"], [10, "factor-ten"], [0.1, "factor-ten"],
];

/**
 * What else would read so: the temperature that it would mean, its error where a temperature was
 * measured, and its own figures.
 * @typedef {{tImpliedC: number, errorK: ?number}} Implied
 * @typedef {Implied & {kind: "unit-slip"|"factor-ten", figures: {times: number}}} Slip
 * @typedef {Implied & {kind: "other-curve", figures: {curve: string}}} OtherCurve
 * @typedef {Implied & {kind: "plugged-in",
 *   figures: {sensorOhm: number, pullUpOhm: number}}} PluggedIn
 * @typedef {Implied & {kind: "series-resistance", figures: {seriesOhm: number}}} InSeries
 * @typedef {{kind: "board-alone", tImpliedC: null, errorK: null,
 *   figures: {pullUpOhm: number}}} BoardAlone says nothing of the sensor but that it is open
 * @typedef {Slip | OtherCurve | PluggedIn | BoardAlone | InSeries} Explanation
 */

/**
 * A verdict that has figures to hold against its limit.
 * @typedef {Verdict & {tImpliedC: number, errorK: number, uncertaintyK: number}} Compared
 */

/**
 * @param {Grid} grid @param {Measured} measured @param {number} allowK
 * @returns {?Compared} the verdict where the reading would not be outside this curve
 */
function fit(grid, measured, allowK) {
  let verdict;
  try {
    verdict = judge(grid, measured, { allowK });
  } catch (error) {
    if (!(error instanceof OutOfRange)) throw error;
    return null;
  }
  const { tImpliedC, errorK, uncertaintyK, limitK } = verdict;
  if (tImpliedC === null || errorK === null || uncertaintyK === null) return null;
  // A meter that is coarse there fits anything: no part stands for a temperature off its curve.
  const onCurve = tImpliedC >= grid.lowC - limitK && tImpliedC <= grid.highC + limitK;
  const compared = { ...verdict, tImpliedC, errorK, uncertaintyK };
  return onCurve && Math.abs(errorK) <= limitK + uncertaintyK ? compared : null;
}

/** The same reading had the sensor been `rOhm`.
 * @param {Measured} measured @param {number} rOhm @param {number} meterHalfOhm */
function readAs(measured, rOhm, meterHalfOhm) {
  return measurement({ ...measured, rOhm, meterHalfOhm });
}

/** @param {Compared} verdict @returns {{tImpliedC: number, errorK: number}} */
function implied({ tImpliedC, errorK }) {
  return { tImpliedC, errorK };
}

/** @param {Grid} grid @param {Measured} measured @param {number} allowK */
function slips(grid, measured, allowK) {
  /** @type {Slip[]} */
  const found = [];
  SLIPS.forEach(([times, kind]) => {
    // The factor belongs to what was shown, leads and all; they come off once, afterwards.
    const shownOhm = (measured.rOhm + measured.leadsOhm) * times;
    const asRead = readAs(measured, Math.max(shownOhm - measured.leadsOhm, 0),
      measured.meterHalfOhm * times);
    const verdict = fit(grid, asRead, allowK);
    if (verdict) found.push({ kind, ...implied(verdict), figures: { times } });
  });
  return found;
}

/** So near to the pull-up a sensor in parallel is told from none by the meter's last digits alone:
 * whatever it would stand for is no finding.
 * @param {Measured} measured @param {?number} pullUpOhm
 * @returns {boolean} whether it may be the board's pull-up and nothing beside it */
export function isPullUp({ rOhm, meterHalfOhm }, pullUpOhm) {
  return pullUpOhm !== null
    && Math.abs(rOhm - pullUpOhm) <= meterHalfOhm + PULL_UP_SHARE * pullUpOhm;
}

/** @param {Measured} measured @param {?number} pullUpOhm
 * @returns {BoardAlone[]} the sensor is open and still plugged in */
export function boardAlone(measured, pullUpOhm) {
  return pullUpOhm !== null && isPullUp(measured, pullUpOhm)
    ? [{ kind: "board-alone", tImpliedC: null, errorK: null, figures: { pullUpOhm } }] : [];
}

/** @param {Grid} grid @param {Measured} measured @param {number} allowK
 * @param {?number} pullUpOhm @returns {PluggedIn[]} */
function pluggedIn(grid, measured, allowK, pullUpOhm) {
  if (pullUpOhm === null || isPullUp(measured, pullUpOhm)) return [];
  const sensorOhm = sensorFromParallelOhm(measured.rOhm, { pullUpOhm });
  if (sensorOhm === null) return [];
  // The meter's error is stretched by the same curve that turns the reading into the sensor.
  const stretch = Math.pow(sensorOhm / measured.rOhm, 2);
  const alone = readAs(measured, sensorOhm, measured.meterHalfOhm * stretch);
  const verdict = fit(grid, alone, allowK);
  return verdict ? [{ kind: "plugged-in", ...implied(verdict), figures: { sensorOhm, pullUpOhm } }]
    : [];
}

/** @param {Grid} grid @param {Measured} measured @param {number} allowK
 * @param {Object<string, Grid>} others by name */
function otherCurves(grid, measured, allowK, others) {
  /** @type {Array<OtherCurve & {errorK: number}>} */
  const found = [];
  Object.keys(others).forEach((name) => {
    if (others[name] === grid || (grid.id && name === grid.id)) return;
    const verdict = fit(others[name], measured, allowK);
    if (!verdict) return;
    found.push({ kind: "other-curve", ...implied(verdict), figures: { curve: name } });
  });
  return found.sort((a, b) => Math.abs(a.errorK) - Math.abs(b.errorK) ||
    (a.figures.curve < b.figures.curve ? -1 : 1));
}

/** @param {Grid} grid @param {Measured} measured @param {number} allowK
 * @returns {InSeries[]} */
function series(grid, measured, allowK) {
  const nominalOhm = grid.ohm(measured.tC);
  const seriesOhm = measured.rOhm - nominalOhm;
  const believable = seriesOhm > 0 && seriesOhm <= SERIES_SHARE_MAX * nominalOhm;
  if (!believable) return [];
  const verdict = fit(grid, readAs(measured, nominalOhm, measured.meterHalfOhm), allowK);
  return verdict ? [{ kind: "series-resistance", ...implied(verdict), figures: { seriesOhm } }] : [];
}

/**
 * @param {Grid} grid the curve on which the reading was outside, off it, open or short
 * @param {Measured} measured
 * @param {{allowK?: number, pullUpOhm?: ?number, others?: Object<string, Grid>}} options
 * @returns {Explanation[]} those that fit, the likeliest kinds first
 */
export function explain(grid, measured, { allowK = 0, pullUpOhm = null, others = {} } = {}) {
  if (!(measured.rOhm > 0 && measured.rOhm < Infinity)) return [];
  if (fit(grid, measured, allowK)) return [];
  return [
    ...slips(grid, measured, allowK),
    ...boardAlone(measured, pullUpOhm),
    ...pluggedIn(grid, measured, allowK, pullUpOhm),
    ...otherCurves(grid, measured, allowK, others),
    ...series(grid, measured, allowK),
  ];
}
