// A second sensor in the same cup. Mirrors kb/numbers/sister.py.

import { meterHalfOhm, rangeFor } from "./instruments.js";
import { rateKPerOhm } from "./verdict.js";

/** Two sensors tied together in a stirred cup differ by no more. Common practice, no source. */
export const CUP_HALF_K = 0.1;

/** @typedef {import("./grid.js").Grid} Grid */
/** @typedef {import("./instruments.js").Measured} Measured */
/** @typedef {import("./instruments.js").Meter} Meter */

/** @param {Measured} shown yet without a temperature @param {Grid} curve
 * @param {{sisterOhm: number, sisterCurve: Grid, meter: ?Meter, allowK?: number}} beside
 * @returns {Measured} its temperature is what the sister reads as
 * @throws {import("./out-of-range.js").OutOfRange} */
export function besideSister(shown, curve, { sisterOhm, sisterCurve, meter, allowK = 0 }) {
  const leadsOhm = meter ? meter.leads_ohm : 0;
  const tC = sisterCurve.tC(Math.max(sisterOhm - leadsOhm, 0));
  curve.ohm(tC);
  const placed = {
    ...shown, tC, placementHalfK: CUP_HALF_K,
    thermometerHalfK: sisterCurve.toleranceKnown ? sisterCurve.tolK(tC) : allowK,
    lawHalfK: sisterCurve === curve ? 0 : curve.lawK(tC) + sisterCurve.lawK(tC),
  };
  if (!meter || !(shown.rOhm > 0 && shown.rOhm < Infinity)) return placed;
  const insideC = Math.min(Math.max(curve.beyondC(shown.rOhm), curve.lowC), curve.highC);
  const own = rateKPerOhm(curve, shown.rOhm, insideC);
  const rate = own * Math.sign(curve.slope(insideC));
  const sisters = 1 / sisterCurve.slope(tC);
  const halfK = meterK(meter, [shown.rOhm + leadsOhm, sisterOhm], [rate, sisters]);
  return { ...placed, meterHalfOhm: halfK / own };
}

/** @param {Meter} meter @param {number[]} shownOhm @param {number[]} rates dT/dR, signed
 * @returns {number} how far the meter may move the difference, in K */
function meterK(meter, [ohm, sisterOhm], [rate, sisters]) {
  const used = rangeFor(meter, ohm);
  if (!used || used !== rangeFor(meter, sisterOhm)) {
    return meterHalfOhm(meter, ohm) * Math.abs(rate) + meterHalfOhm(meter, sisterOhm) * Math.abs(sisters);
  }
  return Math.abs(ohm * rate - sisterOhm * sisters) * used.percent / 100
    + used.digits * used.resolution_ohm * Math.abs(rate - sisters)
    + used.resolution_ohm * (Math.abs(rate) + Math.abs(sisters));
}
