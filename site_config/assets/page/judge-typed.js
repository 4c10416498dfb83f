// Judge what was typed for one sensor, wherever it was typed. No page is touched here.

import { gridOf } from "../numbers/grid.js";
import { taken } from "../numbers/instruments.js";
import { Unreadable, parseReading } from "../numbers/notation.js";
import { judge } from "../numbers/verdict.js";

/** @typedef {import("../numbers/instruments.js").Measured} Measured */
/** @typedef {import("../numbers/verdict.js").Verdict} Verdict */

/**
 * One reading as typed, its temperature in °C as text. A reading of the round needs no thermometer.
 * @typedef {{at?: string, how?: string, reading?: string, meter?: string, thermometer?: string,
 *   round?: string}} Typed
 * @typedef {{tC: number, rOhm: number, measured: Measured, verdict: Verdict}} Judged
 */

/**
 * @param {{curve: string, allow_k: number}} sensor
 * @param {Typed} typed
 * @returns {Judged}
 * @throws {Unreadable} without a temperature no limits hold; or OutOfRange. Both have words for the
 *   reader
 */
export function judgeTyped(sensor, typed) {
  if (typed.at === undefined) throw new Unreadable("no temperature was taken with it");
  const team = globalThis.OhmTeam;
  const grid = gridOf(sensor.curve);
  if (!grid) throw new Error(`curve ${sensor.curve} is not on this page`);
  const tC = Number(typed.at);
  const rOhm = parseReading(typed.reading || "");
  const measured = taken(rOhm, {
    tC,
    meter: team.meters[typed.meter || ""],
    thermometer: team.thermometers[typed.thermometer || ""],
    placement: typed.how,
  });
  const verdict = judge(grid, measured, { allowK: sensor.allow_k, shortOhm: team.short_ohm });
  return { tC, rOhm, measured, verdict };
}
