// An unmarked sensor: which curves do these readings belong to? Mirrors kb/numbers/which_curve.py.

import { sharedPlacesC } from "./curve-pair.js";
import { OutOfRange } from "./out-of-range.js";
import { expandedK, halvesK, judge, rectangular } from "./verdict.js";

/** @typedef {import("./grid.js").Grid} Grid */
/** @typedef {import("./instruments.js").Measured} Measured */
/** @typedef {import("./verdict.js").Verdict} Verdict */

const PLACES = 201;

/**
 * One curve against all readings; chi2 is the sum of (e/u)², u of instruments and part together.
 * @typedef {{curve: string, fits: boolean, worstK: number, chi2: number}} Candidate
 * Where two curves that both fit would part: certain where a reading there tells them apart.
 * @typedef {{curves: string[], atC: number, byK: number, neededK: number,
 *   certain: boolean}} Parting
 */

/** @param {Grid} grid @param {Measured} measured @returns {?Verdict} null outside the curve */
function judged(grid, measured) {
  try {
    return judge(grid, measured);
  } catch (error) {
    if (!(error instanceof OutOfRange)) throw error;
    return null;
  }
}

/** @param {string} curve @param {Grid} grid @param {Measured[]} readings @returns {Candidate} */
function candidate(curve, grid, readings) {
  let fits = true;
  let worstK = 0;
  let chi2 = 0;
  for (const measured of readings) {
    const verdict = judged(grid, measured);
    if (!verdict || verdict.errorK === null || verdict.uncertaintyK === null) {
      return { curve, fits: false, worstK: Infinity, chi2: Infinity };
    }
    const offK = Math.abs(verdict.errorK);
    fits = fits && offK <= verdict.limitK + verdict.uncertaintyK;
    worstK = Math.max(worstK, offK);
    const u2 = [...halvesK(verdict), verdict.limitK].reduce((sum, halfK) => sum + halfK * halfK / 3, 0);
    chi2 += u2 > 0 ? Math.pow(offK, 2) / u2 : offK === 0 ? 0 : Infinity;
  }
  return { curve, fits, worstK, chi2 };
}

/** By whether it fits, then chi2, then worst, then name.
 * @param {Candidate} a @param {Candidate} b */
function better(a, b) {
  if (a.fits !== b.fits) return a.fits ? -1 : 1;
  if (a.chi2 !== b.chi2) return a.chi2 < b.chi2 ? -1 : 1;
  if (a.worstK !== b.worstK) return a.worstK < b.worstK ? -1 : 1;
  return a.curve < b.curve ? -1 : 1;
}

/** @param {string[]} names two @param {Object<string, Grid>} curves @param {Measured[]} readings
 * @returns {?Parting} */
function parting(names, curves, readings) {
  const [curve, other] = names.map((name) => curves[name]);
  const sharedC = sharedPlacesC(curve, { other, count: PLACES });
  if (!sharedC) return null;
  const temperatureK = Math.max(...readings.map((m) =>
    expandedK(rectangular(m.thermometerHalfK), rectangular(m.placementHalfK))));
  // The meter's share of reading stays much the same, so its kelvin hardly change over the range.
  const meterK = Math.max(...readings.map((m) =>
    (2 * m.meterHalfOhm) / Math.sqrt(3) / Math.abs(curve.slope(m.tC))));
  const uncertaintyK = Math.hypot(temperatureK, meterK);
  const places = sharedC.map((atC) => {
    const byK = Math.abs(other.beyondC(curve.ohm(atC)) - atC);
    const [ownK, otherK] = [curve, other].map((grid) =>
      grid.tolK(atC) + Math.hypot(uncertaintyK, expandedK(rectangular(grid.lawK(atC)))));
    return { atC, byK, neededK: ownK + otherK };
  });
  const centreC = readings.reduce((sum, m) => sum + m.tC, 0) / readings.length;
  const apart = places.filter((at) => at.byK > at.neededK);
  const away = (/** @type {{atC: number}} */ at) => Math.abs(at.atC - centreC);
  const at = apart.length
    ? apart.reduce((best, now) => (away(now) < away(best) ? now : best))
    : places.reduce((best, now) => (now.byK > best.byK ? now : best));
  return { curves: names, ...at, certain: at.byK > at.neededK };
}

/**
 * @param {Object<string, Grid>} curves by name
 * @param {{readings: Measured[]}} taken one or more, at any temperatures
 * @returns {{ranking: Candidate[], separable: boolean, parting: ?Parting}} the best first;
 *   separable where exactly one fits
 * @throws {RangeError} if there is no reading
 */
export function whichCurve(curves, { readings }) {
  if (!readings.length) {
    throw new RangeError(
      "no reading to compare; give at least one temperature and resistance");
  }
  const ranking = Object.keys(curves)
    .map((name) => candidate(name, curves[name], readings)).sort(better);
  const fitting = ranking.filter((found) => found.fits).map((found) => found.curve);
  return {
    ranking,
    separable: fitting.length === 1,
    parting: fitting.length > 1 ? parting(fitting.slice(0, 2), curves, readings) : null,
  };
}
