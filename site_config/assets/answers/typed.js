// Read what was typed into a field, or refuse it. Mirrors kb/answers/typed.py.

import { Unreadable, parseReading, parseTemperature } from "../numbers/notation.js";
import { Refusal, statement } from "./statement.js";

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
    tC: read(text, field, (typed) => parseTemperature(typed, unit)),
    unit: named ? named[0].toUpperCase().replace("℃", "C") : unit,
  };
}

/**
 * @param {string} text a meter's display @param {{field: string}} where
 * @returns {number} ohms; Infinity over range
 * @throws {Refusal} missing where nothing was typed
 */
export function typedReadingOhm(text, { field }) {
  if (!text.trim()) throw new Refusal(statement("field.reading-missing"), { field, missing: true });
  return read(text, field, parseReading);
}

/** @param {string} text @param {string} field @param {function(string): number} parse */
function read(text, field, parse) {
  try {
    return parse(text);
  } catch (error) {
    if (!(error instanceof Unreadable)) throw error;
    throw new Refusal(statement("field.unreadable", { why: error.message }), { field });
  }
}
