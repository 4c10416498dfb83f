// What a reading was taken with. Mirrors kb/answers/instruments.py.

import { taken } from "../numbers/instruments.js";
import { OutOfRange } from "../numbers/out-of-range.js";
import { Refusal, statement } from "./statement.js";

/**
 * @typedef {{id: string, name: string, meter: import("../numbers/instruments.js").Meter}} NamedMeter
 * @typedef {{id: string, name: string,
 *   thermometer: import("../numbers/instruments.js").Thermometer}} NamedThermometer
 * What the team carries, its usual ones first.
 * @typedef {{meters: NamedMeter[], thermometers: NamedThermometer[]}} Kit
 * @typedef {{meter: ?NamedMeter, thermometer: ?NamedThermometer, placement: string}} Tools
 */

/**
 * @param {Tools} tools @param {number} shownOhm @param {{tC: number}} at
 * @returns {import("../numbers/instruments.js").Measured}
 * @throws {Refusal} where the thermometer does not reach that temperature
 */
export function take({ meter, thermometer, placement }, shownOhm, { tC }) {
  try {
    return taken(shownOhm, {
      tC, placement, meter: meter && meter.meter, thermometer: thermometer && thermometer.thermometer,
    });
  } catch (error) {
    if (!(error instanceof OutOfRange)) throw error;
    throw new Refusal(statement("field.beyond-thermometer", {
      instrument: thermometer ? thermometer.name : "", t_c: tC, low_c: error.low, high_c: error.high,
    }), { field: "thermometer" });
  }
}
