// What a reading was taken with. Mirrors kb/answers/instruments.py.

import { isFixed, measurement, taken, thermometerHalfK } from "../numbers/instruments.js";
import { PLACEMENTS } from "../catalog.js";
import { OutOfRange } from "../numbers/out-of-range.js";
import { Refusal, statement } from "./statement.js";

/**
 * ratedV: the most volts its tips may be held to in a machine that is wired in; 0 for none.
 * @typedef {{id: string, name: string, meter: import("../numbers/instruments.js").Meter,
 *   ratedV: number}} NamedMeter
 * @typedef {{id: string, name: string,
 *   thermometer: import("../numbers/instruments.js").Thermometer}} NamedThermometer
 * What the team carries, its usual ones first.
 * @typedef {{meters: NamedMeter[], thermometers: NamedThermometer[]}} Kit
 * placement: nothing where nobody said how the temperature was taken; sister: what the meter shows
 * on a sister in the same cup, sisterCurve: which of the family's other curves she is on.
 * @typedef {{meter: ?NamedMeter, thermometer: ?NamedThermometer, placement: string,
 *   sister?: string, sisterCurve?: string}} Tools
 * One change that alone would decide: the term of the budget, and the instrument for it.
 * @typedef {{term: string, id: string, name: string}} Way
 * @typedef {import("../numbers/instruments.js").Measured} Measured
 */

/** @param {Tools} tools @param {number} shownOhm
 * @returns {Measured} with the meter's errors, yet without a temperature */
export function shownBy({ meter }, shownOhm) {
  return { ...taken(shownOhm, { tC: 0, meter: meter && meter.meter }), placementHalfK: 0 };
}

/**
 * @param {Tools} tools @param {Measured} shown @param {{tC: number, placement: string}} at
 * @returns {Measured} what was shown, with its temperature as taken by this thermometer
 * @throws {Refusal} where the thermometer does not reach that temperature
 */
export function takenAt({ thermometer }, shown, { tC, placement }) {
  let thermometerHalf = 0;
  try {
    // Where nature sets the temperature the thermometer says nothing that is not known better.
    if (thermometer && !isFixed(placement, tC)) {
      thermometerHalf = thermometerHalfK(thermometer.thermometer, tC);
    }
  } catch (error) {
    if (!(error instanceof OutOfRange)) throw error;
    throw new Refusal(statement("field.beyond-thermometer", {
      instrument: thermometer ? thermometer.name : "", t_c: tC, low_c: error.low, high_c: error.high,
    }), { field: "thermometer" });
  }
  return measurement({
    ...shown, tC, thermometerHalfK: thermometerHalf, placementHalfK: PLACEMENTS[placement],
  });
}

/**
 * @param {Tools} tools @param {number} shownOhm @param {{tC: number}} at
 * @returns {Measured}
 * @throws {Refusal} as takenAt, and where nobody said how the temperature was taken
 */
export function take(tools, shownOhm, { tC }) {
  if (!tools.placement) {
    throw new Refusal(statement("field.placement-missing"), { field: "how", missing: true });
  }
  return takenAt(tools, shownBy(tools, shownOhm), { tC, placement: tools.placement });
}
