// Outside limits: what else would read so? Mirrors kb/numbers/explanations.py, without its words.

import { sensorFromParallelOhm } from "./divider.js";
import { measurement } from "./instruments.js";
import { judge } from "./verdict.js";

/** @typedef {import("./grid.js").Grid} Grid */

/** A contact worse than half the sensor's own resistance is not believable. Common practice. */
const SERIES_SHARE_MAX = 0.5;
const SLIPS = [
  [1000, "unit-slip"], [0.001, "unit-slip"], [10, "factor-ten"], [0.1, "factor-ten"],
];

/**
 * @typedef {{kind: string, tImpliedC: number, errorK: number, figures: {times?: number,
 *   curve?: string, sensorOhm?: number, pullUpOhm?: number, seriesOhm?: number}}} Explanation
 *   kind: unit-slip, factor-ten, plugged-in, other-curve or series-resistance
 */

/** The verdict where the reading would not be outside this curve, else null. */
function fit(grid, measured, allowK) {
  let verdict;
  try {
    verdict = judge(grid, measured, { allowK });
  } catch (error) {
    if (error.name !== "OutOfRange") throw error;
    return null;
  }
  if (verdict.errorK === null) return null;
  return Math.abs(verdict.errorK) <= verdict.limitK + verdict.uncertaintyK ? verdict : null;
}

/** The same reading had the sensor been `rOhm`. */
function readAs(measured, rOhm, meterHalfOhm) {
  return measurement({ ...measured, rOhm, meterHalfOhm });
}

function explanation(kind, verdict, figures) {
  return { kind, tImpliedC: verdict.tImpliedC, errorK: verdict.errorK, figures };
}

function slips(grid, measured, allowK) {
  return SLIPS.reduce((found, [times, kind]) => {
    // The factor belongs to what was shown, leads and all; they come off once, afterwards.
    const shownOhm = (measured.rOhm + measured.leadsOhm) * times;
    const asRead = readAs(measured, Math.max(shownOhm - measured.leadsOhm, 0),
      measured.meterHalfOhm * times);
    const verdict = fit(grid, asRead, allowK);
    return verdict ? found.concat(explanation(kind, verdict, { times })) : found;
  }, []);
}

function pluggedIn(grid, measured, allowK, pullUpOhm) {
  if (pullUpOhm === null) return [];
  const sensorOhm = sensorFromParallelOhm(measured.rOhm, { pullUpOhm });
  if (sensorOhm === null) return [];
  // The meter's error is stretched by the same curve that turns the reading into the sensor.
  const stretch = Math.pow(sensorOhm / measured.rOhm, 2);
  const alone = readAs(measured, sensorOhm, measured.meterHalfOhm * stretch);
  const verdict = fit(grid, alone, allowK);
  return verdict ? [explanation("plugged-in", verdict, { sensorOhm, pullUpOhm })] : [];
}

function otherCurves(grid, measured, allowK, others) {
  return Object.keys(others)
    .filter((name) => others[name] !== grid && !(grid.id && name === grid.id))
    .map((name) => ({ name, verdict: fit(others[name], measured, allowK) }))
    .filter((one) => one.verdict)
    .sort((a, b) => Math.abs(a.verdict.errorK) - Math.abs(b.verdict.errorK) ||
      (a.name < b.name ? -1 : 1))
    .map((one) => explanation("other-curve", one.verdict, { curve: one.name }));
}

function series(grid, measured, allowK) {
  const nominalOhm = grid.ohm(measured.tC);
  const seriesOhm = measured.rOhm - nominalOhm;
  const believable = seriesOhm > 0 && seriesOhm <= SERIES_SHARE_MAX * nominalOhm;
  if (!believable) return [];
  const verdict = fit(grid, readAs(measured, nominalOhm, measured.meterHalfOhm), allowK);
  return verdict ? [explanation("series-resistance", verdict, { seriesOhm })] : [];
}

/**
 * @param {Grid} grid the curve on which the reading was outside, off it, open or short
 * @param {Measured} measured
 * @param {{allowK?: number, pullUpOhm?: ?number, others?: Object<string, Grid>}} [options]
 * @returns {Explanation[]} those that fit, the likeliest kinds first
 */
export function explain(grid, measured, { allowK = 0, pullUpOhm = null, others = {} } = {}) {
  if (!(measured.rOhm > 0 && measured.rOhm < Infinity)) return [];
  if (fit(grid, measured, allowK)) return [];
  return [
    ...slips(grid, measured, allowK),
    ...pluggedIn(grid, measured, allowK, pullUpOhm),
    ...otherCurves(grid, measured, allowK, others),
    ...series(grid, measured, allowK),
  ];
}
