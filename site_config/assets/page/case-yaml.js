// Write a case as an entry for the notes, as `ohmfolio case add` takes it. Pure: it touches no page.

/**
 * Quote a text so that it stays text: single quotes double themselves, nothing else is special.
 * @param {string} text @returns {string}
 */
function quoted(text) {
  return `'${String(text).replace(/\s+/g, " ").trim().replace(/'/g, "''")}'`;
}

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
 *   readings: CaseReading[], cause: Cause, cure: string, minutes: string,
 *   learnt: string[]}} Case on: year-month-day
 */

/** @param {Cause} cause @returns {string} */
function causeLine({ sensor, part, what }) {
  return inline(sensor ? { sensor } : part ? { part } : { what: quoted(what || "") });
}

/** @param {Case} told @returns {string} YAML, ending in a new line */
export function caseYaml(told) {
  const rows = [`name: ${quoted(told.name)}`, `on: ${told.on}`, `by: ${quoted(told.by)}`,
    `family: ${told.family}`];
  if (told.code) rows.push(`code: ${told.code}`);
  rows.push(`found: ${quoted(told.found)}`);
  if (told.readings.length) {
    rows.push("readings:");
    told.readings.forEach((one) => {
      rows.push("- " + inline({
        sensor: one.sensor,
        r: quoted(one.reading),
        t_c: one.at,
        how: one.how,
        meter: one.meter,
        thermometer: one.thermometer,
        after: one.after ? "after" : undefined,
      }));
    });
  }
  rows.push(`cause: ${causeLine(told.cause)}`, `cure: ${quoted(told.cure)}`, `minutes: ${told.minutes}`);
  if (told.learnt.length) {
    rows.push("learnt:");
    told.learnt.forEach((line) => { rows.push(`- ${quoted(line)}`); });
  }
  return `${rows.join("\n")}\n`;
}
