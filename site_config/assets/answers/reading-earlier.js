// Other readings of the same sensor in the same visit: which of them count. Mirrors
// kb/answers/reading_earlier.py.

import { held } from "../numbers/held.js";
import { shortBelowOhm } from "../numbers/verdict.js";
import { temperatureInRange } from "./judged.js";
import { Refusal, statement } from "./statement.js";
import { take } from "./tools.js";
import { SISTER, typedReadingOhm } from "./typed.js";

/**
 * @typedef {import("../numbers/instruments.js").Measured} Measured
 * @typedef {import("./judged.js").SensorFacts} SensorFacts
 * As typed, not after a repair; when: as a clock shows it, or nothing.
 * @typedef {{reading: string, at: string, unit?: string, tools: import("./tools.js").Tools,
 *   when?: string}} EarlierReading
 * @typedef {{measured: Measured, statement: import("./statement.js").Statement}} Counted
 */

/** So many count beside the one that is judged. */
const MOST = 2;
/** Nearer than so, with the same error, one says nothing new: common practice, no source. */
const APART_K = 5;

/** @param {SensorFacts} sensor @param {EarlierReading[]} earlier
 * @param {import("./judged.js").Judged} judged
 * @returns {Counted[]} those that say something of their own */
export function countedBeside(sensor, earlier, { at, measured }) {
  if (!at) return [];
  /** @type {Counted[]} */
  const found = [];
  earlier.forEach((reading) => {
    const taken = takenEarlier(sensor, reading);
    if (taken && isNews(sensor, taken.measured, measured)) found.push(taken);
  });
  return found.slice(0, MOST);
}

/** @param {SensorFacts} sensor @param {EarlierReading} reading
 * @returns {?Counted} null where it cannot be read, or has no temperature of its own */
function takenEarlier(sensor, { reading, at, unit = "C", tools, when = "" }) {
  // Its temperature is another sensor's word: it says nothing of its own.
  if (tools.placement === SISTER) return null;
  try {
    const shownOhm = typedReadingOhm(reading, { field: "reading" });
    const { tC } = temperatureInRange(sensor, at, { unit, tools });
    return {
      measured: take(tools, shownOhm, { tC }),
      statement: statement(`earlier-counted.${when ? "clock" : "bare"}`,
        { shown_ohm: shownOhm, t_c: tC, when }),
    };
  } catch (refused) {
    if (refused instanceof Refusal) return null;
    throw refused;
  }
}

/** @param {SensorFacts} sensor @param {Measured} other @param {Measured} first */
function isNews({ curve, allowK = 0 }, other, first) {
  if (!(other.rOhm >= shortBelowOhm(curve) && other.rOhm < Infinity)) return false;
  if (Math.abs(other.tC - first.tC) >= APART_K) return true;
  const own = held(curve, first, allowK);
  const beside = held(curve, other, allowK);
  if (!own || !beside) return own !== beside;
  return Math.abs(own.errorK - beside.errorK) > own.spreadK;
}
