// Whether an insulation reading is of a wet surface: what was seen there, and the dew point. Mirrors
// kb/answers/insulation_damp.py.

import { LIMITS } from "../catalog.js";
import { dewPointC, surfaceState } from "../numbers/dew-point.js";
import { Refusal, statement } from "./statement.js";
import { typedTemperature } from "./typed.js";

/** surface: seen to be wet or dirty, wet or near by the dew point, dry, or nothing; null where
 * nobody knows.
 * @typedef {{airC: ?number, humidityShare: ?number, dewC: ?number, surface: string}} Damp */

const HUMIDITY = /^(\d+(?:[.,]\d*)?) ?%?$/;
/** @type {Object<string, string>} */
const SEEN = { wet: "seen", dry: "dry" };

/** @param {Damp} damp @returns {boolean} whether water or dirt may be what was read */
export const isDoubtful = ({ surface }) => ["seen", "wet", "near"].includes(surface);

/**
 * @param {{air?: string, humidity?: string, surface?: string, unit?: string}} typed air and
 *   humidity both or neither; surface: wet, dry or nothing
 * @param {?number} windingC @returns {Damp}
 * @throws {Error} Refusal: one cannot be read, or there is no such air
 */
export function typedDamp({ air = "", humidity = "", surface = "", unit = "C" }, windingC) {
  const airC = air.trim() ? typedTemperature(air, { field: "air", unit }).tC : null;
  const percent = humidity.trim() ? typedHumidity(humidity) : null;
  const { dew_low_c: lowC, dew_high_c: highC } = LIMITS;
  if (airC !== null && !(airC >= lowC && airC <= highC)) {
    throw new Refusal(statement("insulation.no-such-air",
      { air_c: airC, low_c: lowC, high_c: highC }), { field: "air" });
  }
  const seen = SEEN[surface] || "";
  if (airC === null || percent === null) {
    return { airC: null, humidityShare: null, dewC: null, surface: seen };
  }
  const dewC = dewPointC(airC, percent);
  const byDew = windingC === null ? "" : surfaceState(windingC, dewC);
  const eye = seen === "seen" || (seen && (byDew === "" || byDew === "dry"));
  return { airC, humidityShare: percent / 100, dewC, surface: eye ? seen : byDew };
}

/** @param {string} text */
function typedHumidity(text) {
  const found = HUMIDITY.exec(text.trim());
  const percent = found ? Number(found[1].replace(",", ".")) : 0;
  if (!(percent > 0 && percent <= 100)) {
    throw new Refusal(statement("insulation.no-humidity", { typed: text.trim() }),
      { field: "humidity" });
  }
  return percent;
}

/** @param {Damp} damp @param {boolean} waits a winding whose temperature nobody took
 * @returns {Array<import("./statement.js").Statement>} the dew point, and what it waits for */
export function dampNotes({ airC, humidityShare, dewC }, waits) {
  if (dewC === null) return [];
  const found = [statement("insulation.dew", {
    dew_c: dewC, air_c: airC, humidity_share: humidityShare, margin_k: LIMITS.dew_margin_k,
  })];
  return waits ? [...found, statement("insulation.dew-waits")] : found;
}

/** @param {Damp} damp @param {Object<string, *>} figures
 * @returns {import("./statement.js").Statement} what too little says on a wet surface */
export const dampHeadline = ({ surface, dewC }, figures) =>
  statement(`insulation.outside-${surface}`,
    { ...figures, dew_c: dewC, margin_k: LIMITS.dew_margin_k });
