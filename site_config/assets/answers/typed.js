// Read what was typed into a field, or refuse it. Mirrors kb/answers/typed.py.

import { FIXED_POINT } from "../numbers/instruments.js";
import { Unreadable, parseReading, parseTemperature } from "../numbers/notation.js";
import { Refusal, statement } from "./statement.js";

/** The placement that is a temperature of its own. */
export const ICE = FIXED_POINT;
/** Held against another sensor in the same cup: no temperature is taken. */
export const SISTER = "sister";
/** Stirred ice and water shows 0 °C, within the thermometer's own error: common practice. */
const ICE_WITHIN_K = 1;
const ONE = /^1[.,]?$/;
const DASHES = /^[-−–—_](?: ?[-−–—_])+$/;

/** A temperature as typed; answers come back in its unit.
 * @typedef {{tC: number, unit: string}} TypedTemperature */

/**
 * @param {string} text 7, −10, 7,5, 45F
 * @param {{field: string, unit?: string}} where the field's name; C or F for a bare number
 * @returns {TypedTemperature}
 * @throws {Refusal} missing where nothing was typed
 */
export function typedTemperature(text, { field, unit = "C" }) {
  if (!text.trim()) throw new Refusal(statement("field.temperature-missing"), { field, missing: true });
  const named = /[CF℃]$/i.exec(text.trim());
  return {
    tC: readTyped(text, field, (typed) => parseTemperature(typed, unit)),
    unit: named ? named[0].toUpperCase().replace("℃", "C") : unit,
  };
}

/**
 * @param {string} text as for typedTemperature
 * @param {{field: string, placement: string, unit?: string}} how placement: nothing where not said
 * @returns {TypedTemperature} 0 °C where it was taken in ice, whatever was typed
 * @throws {Refusal} also where stirred ice is said to be anything but 0 °C
 */
export function placedTemperatureTyped(text, { field, placement, unit = "C" }) {
  if (placement === ICE && !text.trim()) return { tC: 0, unit };
  const at = typedTemperature(text, { field, unit });
  if (placement === ICE && Math.abs(at.tC) > ICE_WITHIN_K) {
    throw new Refusal(statement("field.not-ice", { t_c: at.tC }), { field });
  }
  // A thermometer that shows 0.4 °C there shows its own error.
  return placement === ICE ? { ...at, tC: 0 } : at;
}

/**
 * @param {string} text a meter's display
 * @param {{field: string, metered?: boolean}} where metered: whether a meter showed it; then 1, 1.
 *   and --- may be its way to say over range, and are asked about
 * @returns {number} ohms; Infinity over range
 * @throws {Refusal} missing where nothing was typed; with choices where it could be read two ways
 */
export function typedReadingOhm(text, { field, metered = true }) {
  if (!text.trim()) throw new Refusal(statement("field.reading-missing"), { field, missing: true });
  if (metered) askOfOverRange(text.trim(), field);
  return readTyped(text, field, parseReading);
}

/** @param {string} typed @param {string} field */
function askOfOverRange(typed, field) {
  const single = ONE.test(typed);
  if (!single && !DASHES.test(typed)) return;
  const other = single ? { id: "one-ohm", typed: "1.0" } : { id: "no-contact", typed: "" };
  throw new Refusal(
    statement(`field.over-range-or-${single ? "one" : "no-contact"}`, { typed }),
    { field, choices: [{ id: "over-range", typed: "OL" }, other] });
}

/** @param {string} text @param {string} field @param {function(string): number} parse
 * @throws {Refusal} why it has no meaning, or two */
export function readTyped(text, field, parse) {
  try {
    return parse(text);
  } catch (error) {
    if (!(error instanceof Unreadable)) throw error;
    const why = statement(`unreadable.${error.message}`, error.figures);
    throw new Refusal(statement("field.unreadable", { why }), { field });
  }
}
