// Whether the meter may be held to what can stand at a plug. Mirrors kb/answers/live_rating.py.

import { typedVolts } from "./plug-volts.js";
import { Refusal, statement } from "./statement.js";

const WIRED_IN_V = 400;

/**
 * @param {import("./judged.js").SensorFacts} sensor
 * @param {{tools: import("./tools.js").Tools, kit: import("./tools.js").Kit, typed: string[]}} of
 *   typed: volts as typed, read or not
 * @returns {?import("./statement.js").Statement} null where it may, and where none is named
 */
export function unratedMeter({ liveV }, { tools: { meter }, kit, typed }) {
  if (!meter) return null;
  const mostV = Math.max(liveV || WIRED_IN_V, ...typed.map(readV));
  if (meter.ratedV >= mostV) return null;
  const instruments = kit.meters.filter(({ ratedV }) => ratedV >= mostV).map(({ name }) => name);
  return statement(`volts.unrated${instruments.length ? "" : "-all"}`,
    { instrument: meter.name, live_v: mostV, instruments });
}

/** @param {string} text */
function readV(text) {
  try { return typedVolts(text, "volts")[0]; } catch (refused) {
    if (!(refused instanceof Refusal)) throw refused;
    return 0;
  }
}
