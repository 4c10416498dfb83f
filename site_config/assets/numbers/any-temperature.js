// A reading without a temperature: what is the same at every temperature that a sensor meets?
// Mirrors kb/numbers/any_temperature.py.

import { sensorFromParallelOhm } from "./divider.js";
import { SLIPS, boardAlone, explanation, isPullUp } from "./explanations.js";
import { expandedK, rateKPerOhm, rectangular, shortBelowOhm } from "./verdict.js";

/** @typedef {import("./grid.js").Grid} Grid */
/** @typedef {import("./instruments.js").Measured} Measured */
/** @typedef {import("./verdict.js").Verdict} Verdict */
/** @typedef {import("./explanations.js").Explanation} Explanation */
/** The temperatures that a sensor meets, inside its curve.
 * @typedef {{lowC: number, highC: number}} Meets */

/** So much further off than limit and meter together a reading must be: more than the worst way of
 * taking a temperature would leave open. Common practice, no source. */
const MARGIN_K = 3;
/** The band is looked at in steps of this. */
const STEP_K = 1;

/** @param {Grid} curve @param {?number[]} [meetsC] lowest and highest, where the notes say
 * @returns {?Meets} what of it lies on the curve; all of it where nobody knows */
export function meetsOn(curve, meetsC = null) {
  const [low, high] = meetsC || [curve.lowC, curve.highC];
  const [lowC, highC] = [Math.max(low, curve.lowC), Math.min(high, curve.highC)];
  return lowC < highC ? { lowC, highC } : null;
}

/**
 * @param {Grid} curve @param {Measured} measured its temperature is not looked at
 * @param {{meets: Meets, allowK?: number, shortOhm?: ?number}} how
 * @returns {?Verdict} that holds at every temperature met; null where it needs a temperature
 */
export function judgeAnywhere(curve, measured, { meets, allowK = 0, shortOhm = null }) {
  const { lawK, ...known } = bandOf(curve, meets, allowK);
  /** @param {string} verdict @param {Partial<Verdict>} [compared] @returns {Verdict} */
  const answer = (verdict, compared) => ({
    verdict, tImpliedC: null, errorK: null, uncertaintyK: null,
    termsK: { meter: 0, thermometer: 0, placement: 0, curve: 0 }, dominant: null, settling: null,
    ...known, ...compared,
  });
  const { rOhm } = measured;
  if (rOhm === Infinity) {
    const reachK = known.limitK + expandedK(lawK) + MARGIN_K;
    const highestOhm = Math.max(curve.beyondOhm(meets.lowC - reachK),
      curve.beyondOhm(meets.highC + reachK), known.highOhm);
    return highestOhm >= measured.meterSpanOhm ? null : answer("open");
  }
  if (rOhm === 0 || rOhm < shortBelowOhm(curve, shortOhm)) return answer("short");
  const tImpliedC = curve.beyondC(rOhm);
  const insideC = Math.min(Math.max(tImpliedC, curve.lowC), curve.highC);
  const meterK = rectangular(measured.meterHalfOhm * rateKPerOhm(curve, rOhm, insideC));
  const reachK = known.limitK + expandedK(meterK, lawK) + MARGIN_K;
  if (Math.abs(tImpliedC - insideC) > reachK) return answer("off-curve");
  const errorK = tImpliedC - Math.min(Math.max(tImpliedC, meets.lowC), meets.highC);
  if (!known.limitKnown || Math.abs(errorK) <= reachK) return null;
  return answer("outside", { tImpliedC, errorK });
}

/** What a good part reads anywhere there, the largest limit, and the largest standard uncertainty of
 * the curve itself.
 * @param {Grid} curve @param {Meets} meets @param {number} allowK
 * @returns {{limitK: number, limitKnown: boolean, lawK: number, lowOhm: number, highOhm: number}} */
function bandOf(curve, { lowC, highC }, allowK) {
  const steps = Math.ceil((highC - lowC) / STEP_K);
  const ends = [curve.beyondOhm(lowC - allowK), curve.beyondOhm(highC + allowK)];
  const band = {
    limitK: allowK, limitKnown: curve.toleranceKnown || allowK > 0, lawK: 0,
    lowOhm: Math.min(...ends), highOhm: Math.max(...ends),
  };
  for (let i = 0; i <= steps; i++) {
    const tC = i === steps ? highC : lowC + ((highC - lowC) * i) / steps;
    band.limitK = Math.max(band.limitK, curve.tolK(tC));
    band.lawK = Math.max(band.lawK, rectangular(curve.lawK(tC)));
    band.lowOhm = Math.min(band.lowOhm, curve.low(tC));
    band.highOhm = Math.max(band.highOhm, curve.high(tC));
  }
  return band;
}

/**
 * As explain, but without an error: there is no temperature to be off from. A bad contact in series
 * fits at some temperature whatever was read, and is not among them.
 * @param {Grid} curve @param {Measured} measured
 * @param {{meets: Meets, pullUpOhm?: ?number, others?: Object<string, Grid>}} how
 * @returns {Explanation[]} what else would read so, at some temperature that the sensor meets
 */
export function explainAnywhere(curve, measured, { meets, pullUpOhm = null, others = {} }) {
  if (!(measured.rOhm > 0 && measured.rOhm < Infinity)) return [];
  /** @type {Explanation[]} */
  const found = [];
  SLIPS.forEach(([times, kind]) => {
    const shownOhm = (measured.rOhm + measured.leadsOhm) * times;
    const tImpliedC = metAt(curve, Math.max(shownOhm - measured.leadsOhm, 0), meets);
    if (tImpliedC !== null) found.push(explanation(kind, { times }, { tImpliedC }));
  });
  found.push(...boardAlone(measured, pullUpOhm));
  const sensorOhm = pullUpOhm === null || isPullUp(measured, pullUpOhm) ? null
    : sensorFromParallelOhm(measured.rOhm, { pullUpOhm });
  const aloneC = sensorOhm === null ? null : metAt(curve, sensorOhm, meets);
  if (sensorOhm !== null && pullUpOhm !== null && aloneC !== null) {
    found.push(explanation("plugged-in", { sensorOhm, pullUpOhm }, { tImpliedC: aloneC }));
  }
  Object.keys(others).sort().forEach((name) => {
    if (others[name] === curve || (curve.id && name === curve.id)) return;
    const tImpliedC = metAt(others[name], measured.rOhm, meets);
    if (tImpliedC === null) return;
    found.push(explanation("other-curve", { curve: name }, { tImpliedC }));
  });
  return found;
}

/** @param {Grid} curve @param {number} rOhm @param {Meets} meets
 * @returns {?number} the temperature that it stands for, where the sensor meets it */
function metAt(curve, rOhm, { lowC, highC }) {
  if (!(rOhm >= curve.lowOhm && rOhm <= curve.highOhm)) return null;
  const tC = curve.beyondC(rOhm);
  return tC >= lowC && tC <= highC ? tC : null;
}
