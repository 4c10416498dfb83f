// Is this reading right for this temperature? Mirrors kb/numbers/verdict.py.

import { coverageK } from "./error-bound.js";

/** @typedef {import("./grid.js").Grid} Grid */
/** @typedef {import("./instruments.js").Measured} Measured */
/** The last is the curve itself.
 * @typedef {"meter"|"thermometer"|"placement"|"curve"} Term */

/** @type {Term[]} */
const TERMS = ["meter", "thermometer", "placement", "curve"];
/** Below this, or a tenth of the curve's lowest resistance, it is a short. Common practice. */
const SHORT_OHM = 10;

/**
 * What it would take to decide: the uncertainty that just decides; the terms that alone, made
 * perfect, would do, best first; what the meter alone leaves, and whether that is little enough.
 * @typedef {{neededK: number, terms: Term[], meterK: number, meterCan: boolean}} Settling
 *
 * @typedef {{verdict: string, tImpliedC: ?number, errorK: ?number, limitK: number,
 *   limitKnown: boolean, uncertaintyK: ?number,
 *   termsK: {meter: number, thermometer: number, placement: number, curve: number},
 *   dominant: ?Term,
 *   lowOhm: number, highOhm: number, settling: ?Settling}} Verdict
 *   one of within, outside, undecided, open, short, off-curve; null where there is no figure
 */

/** Guarded both ways (JCGM 106:2012, 8.3; ILAC-G8:09/2019).
 * @param {number} errorK @param {{limitK: number, uncertaintyK: number}} against
 * @returns {number} 1 within, −1 outside, 0 not decided */
export function decided(errorK, { limitK, uncertaintyK }) {
  const offK = Math.abs(errorK);
  if (offK <= limitK - uncertaintyK) return 1;
  return offK > limitK + uncertaintyK ? -1 : 0;
}

/** @param {number} halfWidth @returns {number} standard uncertainty (JCGM 100:2008, 4.3.7) */
export const rectangular = (halfWidth) => halfWidth / Math.sqrt(3);

/** @param {number} standard @returns {number} the half-width whose standard uncertainty this is */
const fullHalf = (standard) => standard * Math.sqrt(3);

/** @param {{termsK: Verdict["termsK"]}} verdict @returns {number[]} half-widths of TERMS */
export const halvesK = ({ termsK }) => TERMS.map((term) => fullHalf(termsK[term]));

/** @param {...number} termsK standard uncertainties @returns {number} U = 2u */
export const expandedK = (...termsK) => 2 * Math.sqrt(termsK.reduce((sum, termK) => sum + termK * termK, 0));

/** Whatever the team says, it never reaches into the curve.
 * @param {Grid} grid @param {?number} [atMostOhm]
 * @returns {number} Ω below which a reading is a short on it */
export const shortBelowOhm = (grid, atMostOhm = null) =>
  Math.min(atMostOhm === null ? SHORT_OHM : atMostOhm, grid.lowOhm / 10);

/** The part's band, widened to the sensor's allowance.
 * @param {Grid} grid @param {number} tC @param {number} allowK
 * @returns {{lowOhm: number, highOhm: number}} */
export function expectedOhm(grid, tC, allowK) {
  const ends = [grid.beyondOhm(tC - allowK), grid.beyondOhm(tC + allowK)];
  return {
    lowOhm: Math.min(grid.low(tC), ...ends),
    highOhm: Math.max(grid.high(tC), ...ends),
  };
}

/** |dT/dR| in K/Ω at a reading; past an end a falling curve goes on straight in ln R.
 * @param {Grid} grid @param {number} rOhm @param {number} insideC */
export function rateKPerOhm(grid, rOhm, insideC) {
  const rate = 1 / Math.abs(grid.slope(insideC));
  return grid.falling ? (rate * grid.ohm(insideC)) / rOhm : rate;
}

/** @param {number} errorK @param {number} limitK @param {Verdict["termsK"]} termsK
 * @returns {Settling} */
function settling(errorK, limitK, termsK) {
  const neededK = Math.abs(Math.abs(errorK) - limitK);
  /** @param {Term} term */
  const leftWithout = (term) =>
    coverageK(TERMS.filter((name) => name !== term).map((name) => fullHalf(termsK[name])));
  const would = TERMS.filter((term) => leftWithout(term) < neededK);
  would.sort((a, b) => leftWithout(a) - leftWithout(b) || TERMS.indexOf(a) - TERMS.indexOf(b));
  const meterK = coverageK([fullHalf(termsK.meter)]);
  return { neededK, terms: would, meterK, meterCan: meterK < neededK };
}

/**
 * @param {Grid} grid
 * @param {Measured} measured from taken; its temperature inside the curve's range
 * @param {{allowK?: number, shortOhm?: ?number}} options what the sensor's job allows it to be
 *   off; below how many ohms it is a short
 * @returns {Verdict}
 * @throws {OutOfRange} if the measured temperature is outside the curve's range
 */
export function judge(grid, measured, { allowK = 0, shortOhm = null } = {}) {
  const { rOhm, tC } = measured;
  const limitK = Math.max(grid.tolK(tC), allowK);
  const limitKnown = grid.toleranceKnown || allowK > 0;
  const besideMeterK = {
    thermometer: rectangular(measured.thermometerHalfK),
    placement: rectangular(measured.placementHalfK),
    curve: rectangular(measured.lawHalfK === null ? grid.lawK(tC) : measured.lawHalfK),
  };
  const expected = expectedOhm(grid, tC, allowK);
  /** @param {string} verdict @param {Partial<Verdict>} [compared] @returns {Verdict} */
  const answer = (verdict, compared) => ({
    verdict, tImpliedC: null, errorK: null, limitK, limitKnown, uncertaintyK: null,
    termsK: { meter: 0, ...besideMeterK }, dominant: null, ...expected, settling: null,
    ...compared,
  });

  if (rOhm === Infinity) {
    const { thermometer, placement, curve } = besideMeterK;
    const reachK = limitK + expandedK(thermometer, placement, curve);
    const highestOhm = Math.max(grid.beyondOhm(tC - reachK), grid.beyondOhm(tC + reachK));
    // A good part may be beyond this meter today.
    const beyond = Math.max(highestOhm, expected.highOhm) >= measured.meterSpanOhm;
    return beyond ? answer("undecided", { dominant: "meter" }) : answer("open");
  }
  if (rOhm === 0 || rOhm < shortBelowOhm(grid, shortOhm)) return answer("short");

  const tImpliedC = grid.beyondC(rOhm);
  const insideC = Math.min(Math.max(tImpliedC, grid.lowC), grid.highC);
  const meterK = rectangular(measured.meterHalfOhm * rateKPerOhm(grid, rOhm, insideC));
  const termsK = { meter: meterK, ...besideMeterK };
  const uncertaintyK = coverageK(halvesK({ termsK }));
  if (Math.abs(tImpliedC - insideC) > limitK + uncertaintyK) {
    return answer("off-curve", { uncertaintyK, termsK });
  }

  const errorK = tImpliedC - tC;
  const compared = { tImpliedC, errorK, uncertaintyK, termsK };
  if (!limitKnown) return answer("undecided", compared);
  const way = decided(errorK, { limitK, uncertaintyK });
  if (way) return answer(way > 0 ? "within" : "outside", compared);
  const dominant = TERMS.reduce((most, term) => (termsK[term] > termsK[most] ? term : most));
  return answer("undecided", {
    ...compared, dominant, settling: settling(errorK, limitK, termsK),
  });
}
