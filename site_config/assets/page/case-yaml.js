// Write a case as an entry for the notes, as `ohmfolio case add` takes it. Pure: it touches no page.

import { quoted } from "./yaml-text.js";

/** @param {Object<string, string|undefined>} pairs @returns {string} one line of `{key: value}` */
function inline(pairs) {
  return "{" + Object.keys(pairs).filter((key) => pairs[key] !== undefined)
    .map((key) => `${key}: ${pairs[key]}`).join(", ") + "}";
}

/**
 * A reading as typed, its temperature in °C; what is undefined is not written.
 * @typedef {{sensor: string, reading: string, at?: string, how?: string, meter?: string,
 *   thermometer?: string, after: boolean}} CaseReading
 * @typedef {{sensor?: string, part?: string, what?: string}} Cause
 * @typedef {{name: string, on: string, by: string, family: string, code?: string, found: string,
 *   readings: CaseReading[], measured?: string[], cause: Cause, cure: string, minutes: string,
 *   learnt: string[], photos?: Array<{file: string, of: string}>}} Case on: year-month-day
 */

/** @param {Cause} cause @returns {string} */
function causeLine({ sensor, part, what }) {
  return inline(sensor ? { sensor } : part ? { part } : { what: quoted(what || "") });
}

/** @param {string} name @param {string[]} items @returns {string[]} nothing where there are none */
function linesOf(name, items) {
  return items.length ? [`${name}:`, ...items.map((item) => `- ${item}`)] : [];
}

/** @param {Case} job @returns {string} YAML, ending in a new line */
export function caseYaml(job) {
  const rows = [`name: ${quoted(job.name)}`, `on: ${job.on}`, `by: ${quoted(job.by)}`,
    `family: ${job.family}`];
  if (job.code) rows.push(`code: ${job.code}`);
  rows.push(`found: ${quoted(job.found)}`);
  if (job.readings.length) {
    rows.push("readings:");
    job.readings.forEach((reading) => {
      rows.push("- " + inline({
        sensor: reading.sensor,
        r: quoted(reading.reading),
        t_c: reading.at,
        how: reading.how,
        meter: reading.meter,
        thermometer: reading.thermometer,
        after: reading.after ? "after" : undefined,
      }));
    });
  }
  rows.push(...linesOf("measured", (job.measured || []).map(quoted)));
  rows.push(`cause: ${causeLine(job.cause)}`, `cure: ${quoted(job.cure)}`, `minutes: ${job.minutes}`);
  rows.push(...linesOf("learnt", job.learnt.map(quoted)));
  const photos = (job.photos || []).map(({ file, of }) => inline({ file, of: quoted(of) }));
  rows.push(...linesOf("photos", photos));
  return `${rows.join("\n")}\n`;
}
