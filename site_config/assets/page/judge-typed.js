// Judge what was typed for one sensor, wherever it was typed. No page is touched here.

import { gridOf } from "../numbers/grid.js";
import { taken } from "../numbers/instruments.js";
import { parseReading } from "../numbers/notation.js";
import { judge } from "../numbers/verdict.js";

/** A reading of the round needs no thermometer, but then no limits hold for it alone. */
function untimed() {
  const error = new Error("no temperature was taken with it");
  error.name = "Unreadable";
  return error;
}

/**
 * @param {{curve: string, allow_k: number}} sensor
 * @param {{at: string, how: string, reading: string, meter: string, thermometer: string}} typed
 *   temperature in °C
 * @returns {{tC: number, rOhm: number, measured: object, verdict: object}}
 * @throws {Error} Unreadable or OutOfRange, with words for the reader
 */
export function judgeTyped(sensor, typed) {
  const team = globalThis.OhmTeam;
  if (typed.at === undefined) { throw untimed(); }
  const tC = Number(typed.at);
  const rOhm = parseReading(typed.reading);
  const measured = taken(rOhm, {
    tC,
    meter: team.meters[typed.meter],
    thermometer: team.thermometers[typed.thermometer],
    placement: typed.how,
  });
  const verdict = judge(gridOf(sensor.curve), measured, {
    allowK: sensor.allow_k,
    shortOhm: team.short_ohm,
  });
  return { tC, rOhm, measured, verdict };
}
