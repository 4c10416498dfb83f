// How a reading of a part is said that was taken before: as it was typed, and at which temperature.

import { statement } from "../answers/statement.js";
import { nameOf, phrase } from "../words/phrase.js";
import { unit } from "./unit.js";

/** @typedef {import("../answers/statement.js").Statement} Statement */

/** @param {{at?: string, how?: string, sister?: string}} typed °C as text, or nothing; a placement,
 *   or nothing; what a sister read
 * @param {Statement} reading what was read @returns {string} */
export function lineAt({ at = "", how = "", sister = "" }, reading) {
  if (sister) return inWords("sister", { reading, typed: sister });
  if (!at) return inWords("without", { reading });
  const figures = { reading, t_c: Number(at) };
  if (!how) return inWords("at-somehow", figures);
  return inWords("at", { ...figures, how: nameOf("placement", how, "short") });
}

/** @param {{volts?: string, supply?: string}} typed at a sensor's plug, and with the plug off
 * @returns {Statement} */
export function voltsReadWords({ volts = "", supply = "" }) {
  const withUnit = (/** @type {string} */ text) => (/v$/i.test(text) ? text : `${text}\u00a0V`);
  return statement(`earlier-reading.volts${supply ? "-off" : ""}`,
    { volts: withUnit(volts), supply: withUnit(supply) });
}

/** @param {string} form @param {Object<string, any>} figures */
function inWords(form, figures) {
  return phrase(statement(`earlier-reading.${form}`, figures), { unit: unit.now() });
}
