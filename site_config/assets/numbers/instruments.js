// What meter and thermometer leave open. Mirrors kb/numbers/meter.py, kb/numbers/thermometer.py,
// kb/numbers/placement.py and kb/numbers/measured.py.

import { PLACEMENTS } from "../catalog.js";
import { within } from "./out-of-range.js";

/**
 * The team's instruments as the notes hand them to the page, smallest range first.
 * @typedef {{leads_ohm: number, ranges: Array<{span_ohm: number, resolution_ohm: number,
 *   percent: number, digits: number}>}} Meter
 * @typedef {{name?: string, accuracy_k: number, percent: number, resolution_k: number,
 *   low_c: number, high_c: number}} Thermometer
 * A reading with its half-widths: the true value lies that far either side at most.
 * @typedef {{rOhm: number, tC: number, meterHalfOhm: number, thermometerHalfK: number,
 *   placementHalfK: number, meterSpanOhm: number, leadsOhm: number, lawHalfK: ?number}} Measured
 *   lawHalfK: where that is not what the curve says of itself
 */

/** The way of taking a temperature that nature sets, and which: then no thermometer counts. */
export const FIXED_POINT = "ice-water";
const FIXED_C = 0;

/** @param {string} placement @param {number} tC @returns {boolean} whether nature sets it there */
export const isFixed = (placement, tC) => placement === FIXED_POINT && tC === FIXED_C;

/** @param {Meter} meter @returns {number} the highest resistance it can show in Ω */
export const meterSpanOhm = (meter) => meter.ranges[meter.ranges.length - 1].span_ohm;

/** @param {Meter} meter @param {number} rOhm @returns the smallest range that shows it, if any */
export function rangeFor(meter, rOhm) {
  return meter.ranges.find((range) => rOhm <= range.span_ohm);
}

/** @param {Meter} meter @param {number} rOhm as shown
 * @returns {number} half-width in Ω: percent of reading plus digits; Infinity over range */
export function meterHalfOhm(meter, rOhm) {
  const used = rangeFor(meter, rOhm);
  return used ? (rOhm * used.percent) / 100 + used.digits * used.resolution_ohm : Infinity;
}

/** @param {Meter} meter @param {number} rOhm as shown
 * @returns {number} one digit in Ω of the range that shows it; Infinity over range */
export function meterDigitOhm(meter, rOhm) {
  const used = rangeFor(meter, rOhm);
  return used ? used.resolution_ohm : Infinity;
}

/**
 * Readings that are held only against each other: on one range gain and zero are wrong by the
 * same for all and cancel, one digit is left. Over two ranges the whole accuracy counts.
 * Common practice, no source.
 * @param {Meter} meter @param {number[]} readingsOhm within a minute, none over range
 * @returns {number[]} the half-width of each in Ω
 */
export function meterBesideOhm(meter, readingsOhm) {
  const used = readingsOhm.map((rOhm) => rangeFor(meter, rOhm));
  const half = used.every((range) => range === used[0]) ? meterDigitOhm : meterHalfOhm;
  return readingsOhm.map((rOhm) => half(meter, rOhm));
}

/** @param {Thermometer} thermometer @param {number} tC
 * @returns {number} half-width in K, half of the last digit with it
 * @throws {OutOfRange} outside its own range */
export function thermometerHalfK(thermometer, tC) {
  const insideC = within(tC, {
    low: thermometer.low_c, high: thermometer.high_c, unit: "°C",
    what: thermometer.name || "this thermometer",
  });
  return thermometer.accuracy_k + (Math.abs(insideC) * thermometer.percent) / 100 +
    thermometer.resolution_k / 2;
}

/** Half-widths not given are zero, as if perfect.
 * @param {{rOhm: number, tC: number, meterHalfOhm?: number, thermometerHalfK?: number,
 *   placementHalfK?: number, meterSpanOhm?: number, leadsOhm?: number, lawHalfK?: ?number}} given
 * @returns {Measured}
 * @throws {RangeError} a reading below zero, a half-width below zero or without end */
export function measurement(given) {
  const measured = {
    meterHalfOhm: 0, thermometerHalfK: 0, placementHalfK: 0, meterSpanOhm: Infinity, leadsOhm: 0,
    lawHalfK: null, ...given,
  };
  if (!(measured.rOhm >= 0)) {
    throw new RangeError(
      `a reading of ${measured.rOhm} Ω is not zero or more; write OL for over range`);
  }
  const halves = [measured.meterHalfOhm, measured.thermometerHalfK, measured.placementHalfK];
  if (!halves.every((half) => half >= 0 && half < Infinity)) {
    throw new RangeError(`half-widths are zero or more, here ${halves.join(", ")}`);
  }
  return measured;
}

/**
 * @param {number} rOhm as shown, leads included; Infinity for over range
 * @param {{tC: number, meter?: ?Meter, thermometer?: ?Thermometer, placement?: string}} how
 *   without an instrument its half-width is zero: say so to the reader
 * @returns {Measured} with the leads taken off
 */
export function taken(rOhm, { tC, meter, thermometer, placement = "held-on" }) {
  if (!Object.keys(PLACEMENTS).includes(placement)) {
    throw new RangeError(
      `placement '${placement}' is not one of ${Object.keys(PLACEMENTS).join(", ")}`);
  }
  const over = rOhm === Infinity || Boolean(meter && rOhm > meterSpanOhm(meter));
  const shown = meter ? Math.max(rOhm - meter.leads_ohm, 0) : rOhm;
  return measurement({
    rOhm: over ? Infinity : shown,
    tC,
    meterHalfOhm: over || !meter ? 0 : meterHalfOhm(meter, rOhm),
    // Where nature sets the temperature no thermometer counts.
    thermometerHalfK: thermometer && !isFixed(placement, tC) ? thermometerHalfK(thermometer, tC) : 0,
    placementHalfK: PLACEMENTS[placement],
    meterSpanOhm: meter ? meterSpanOhm(meter) - meter.leads_ohm : Infinity,
    leadsOhm: meter ? meter.leads_ohm : 0,
  });
}
