// What was watched while the test voltage stood: before the minute was over, and long after. Mirrors
// kb/answers/insulation_watched.py.

import { LIMITS } from "../catalog.js";
import { ratioState, trendOf } from "../numbers/insulation-trend.js";
import { typedInsulationOhm } from "./insulation-tested.js";
import { statement } from "./statement.js";

/** @typedef {import("./statement.js").Statement} Statement */
/** @typedef {import("./insulation-tested.js").Tested} Tested */
/** trend: rising, flat, falling or nothing; ratio: ten minutes to one, and what it says.
 * @typedef {{trend: string, ratio: ?number, ratioSays: string}} Watched */

const TRENDS = ["rising", "flat", "falling"];

/**
 * @param {import("./insulation-tested.js").InsulationFacts} part @param {Tested} test
 * @param {{at15s?: string, at30s?: string, at10min?: string, trend?: string}} typed the first of 15
 *   and 30 seconds that is given counts; trend: as seen, where no figure was written down
 * @param {?number} at40Ohm the minute's reading at 40 °C
 * @returns {Watched}
 * @throws {Error} Refusal: one cannot be read
 */
export function watched(part, test, { at15s = "", at30s = "", at10min = "", trend = "" }, at40Ohm) {
  const [at15, at30, lateOhm] = [[at15s, "at-15s"], [at30s, "at-30s"], [at10min, "at-10min"]]
    .map(([text, field]) => shownOhm(text, field, test));
  const minuteOhm = test.overRange ? Infinity : test.rOhm;
  const earlyOhm = at15 === null ? at30 : at15;
  const seen = TRENDS.includes(trend) ? trend : "";
  const moved = earlyOhm === null ? seen : trendOf(earlyOhm, minuteOhm);
  if (lateOhm === null || !(minuteOhm > 0 && minuteOhm < Infinity) || lateOhm === Infinity) {
    return { trend: moved, ratio: null, ratioSays: "" };
  }
  // Without a temperature it is held as read.
  const minuteAt40Ohm = at40Ohm === null ? minuteOhm : at40Ohm;
  const small = part.hermetic ? "hermetic" : part.formWound ? "" : "small";
  return {
    trend: moved, ratio: lateOhm / minuteOhm,
    ratioSays: small || ratioState(minuteOhm, { lateOhm, minuteAt40Ohm }),
  };
}

/** @param {string} text @param {string} field @param {Tested} test @returns {?number} */
function shownOhm(text, field, { mostOhm }) {
  if (!text.trim()) return null;
  const rOhm = typedInsulationOhm(text, field);
  return rOhm > mostOhm ? Infinity : rOhm;
}

/** @param {Watched} seen @param {string} state
 * @returns {Statement[]} what rising or standing still says of a reading with that verdict */
export function trendNote({ trend }, state) {
  if (trend !== "rising" && trend !== "flat") return [];
  const enough = state === "within" || state === "" ? "" : "-low";
  return [statement(`insulation.${trend}${enough}`)];
}

/** @param {Watched} seen @returns {Statement[]} what the ratio says, or why it says little */
export function ratioNote({ ratio, ratioSays }) {
  if (ratio === null) return [];
  return [statement(`insulation.ratio-${ratioSays}`, {
    ratio_share: ratio, least_share: LIMITS.least_ratio, above_ohm: LIMITS.ratio_below_ohm,
  })];
}
