// A round of readings as plain text, and as a case for the notes. Pure: it touches no page.

import { formatT } from "../numbers/rounding.js";
import { nameOf } from "../words/phrase.js";
import { caseYaml } from "./case-yaml.js";
import { unit } from "./unit.js";

const EDIT = "EDIT";

/**
 * One row of a round: a reading as typed, what it is called, what was found.
 * @typedef {{sensor: string, label: string, reading: string, tC: ?number, how: ?string,
 *   finding: string}} Row
 * @typedef {{family: string, name: string, on: string, by: string, meter: string,
 *   meterName: string, thermometer: string, thermometerName: string, rows: Row[],
 *   together: string}} Round on: year-month-day
 */

/** @param {Row} row */
function at(row) {
  if (row.tC === null) return "";
  return ` at ${formatT(row.tC, unit.now())} (${nameOf("placement", row.how || "", "short")})`;
}

/** @param {Round} round @returns {string} */
export function roundText(round) {
  const measured = round.rows.some((row) => row.tC !== null);
  const instruments = [round.meterName].concat(measured ? [round.thermometerName] : []);
  return [
    `${round.name}: round of readings, ${round.on}`,
    `${instruments.join(" and ")}.`,
    "",
    ...round.rows.map((row) => `${row.label}: ${row.reading}${at(row)}. ${row.finding}`),
    "",
    round.together,
    "",
  ].join("\n").replace(/\u00a0/g, " ");
}

/**
 * What the phone cannot know stands there as words to edit; every one begins with EDIT.
 * @param {Round} round @returns {string} YAML that `ohmfolio case add` takes as it is
 */
export function roundCase(round) {
  return caseYaml({
    name: `${EDIT} a name for this job on ${round.on}`,
    on: round.on,
    by: round.by || `${EDIT} your initials`,
    family: round.family,
    found: `${EDIT} what was found. Round of readings: ${round.together}`.replace(/\u00a0/g, " "),
    readings: round.rows.map((row) => ({
      sensor: row.sensor,
      reading: row.reading,
      at: row.tC === null ? undefined : String(Math.round(row.tC * 100) / 100),
      how: row.tC === null || row.how === null ? undefined : row.how,
      meter: round.meter,
      thermometer: row.tC === null ? undefined : round.thermometer,
      after: false,
    })),
    cause: { what: `${EDIT} what it was` },
    cure: `${EDIT} what was done`,
    // A case needs a time; nobody has told it yet.
    minutes: "1",
    learnt: [`${EDIT} what the next colleague should know. Minutes too.`],
  });
}
