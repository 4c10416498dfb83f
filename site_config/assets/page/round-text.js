// A round of readings as plain text, and as a case for the notes. Pure: it touches no page.

import { statement } from "../answers/statement.js";
import { nameOf, phrase, inWords } from "../words/phrase.js";
import { caseYaml } from "./case-yaml.js";
import { unit } from "./unit.js";

const EDIT = "EDIT";

/** @param {string} words */
const edit = (words) => `${EDIT} ${words}`;

/**
 * One row of a round: a reading as typed, what it is called, what was found.
 * @typedef {{sensor: string, label: string, reading: string, finding: string}} TextRow
 * One place: what was taken there, or null; together: what its sensors say; next: what to do.
 * @typedef {{name: string, tC: ?number, how: string, rows: TextRow[], together: string,
 *   next: string[]}} TextPlace
 * on: year-month-day; together: what to do first, and what concerns several places.
 * @typedef {{family: string, name: string, on: string, by: string, after: boolean, meter: string,
 *   meterName: string, thermometer: string, thermometerName: string, places: TextPlace[],
 *   together: string}} RoundText
 */

/** @param {string} id @param {Object<string, any>} figures @returns {string} */
const line = (id, figures) => phrase(statement(`round.${id}`, figures), { unit: unit.now() });

/** @param {TextPlace} place @returns {string[]} */
function placeLines({ name, tC, how, rows, together, next }) {
  return [
    tC === null ? line("text-place", { place: name })
      : line("text-place-taken", { place: name, t_c: tC, how: nameOf("placement", how, "short") }),
    ...rows.map(({ label, reading, finding }) => line("text-row", { name: label, reading, finding })),
    together,
    ...next.map((step) => `${nameOf("form", "next")} ${step}`),
    "",
  ].filter((words, i, all) => words || i === all.length - 1);
}

/** @param {RoundText} round @returns {string} */
export function roundText(round) {
  const measured = round.places.some(({ tC }) => tC !== null);
  const instruments = [round.meterName].concat(measured ? [round.thermometerName] : []);
  return [
    line(round.after ? "text-after" : "text-before", { name: round.name, on: round.on }),
    line("text-with", { instruments }),
    "",
    ...(round.together ? [round.together, ""] : []),
    ...round.places.reduce((/** @type {string[]} */ all, place) => all.concat(placeLines(place)), []),
  ].join("\n").replace(/\u00a0/g, " ");
}

/**
 * What the phone cannot know stands there as words to edit; every one begins with EDIT.
 * @param {RoundText} round @returns {string} YAML that `ohmfolio case add` takes as it is
 */
export function roundCase(round) {
  const found = round.places.map(({ name, together }) => `${name}: ${together}`)
    .concat(round.together || []).join(" ");
  return caseYaml({
    name: edit(inWords("round-case.name", { day: round.on })),
    on: round.on,
    by: round.by || edit(inWords("round-case.by")),
    family: round.family,
    found: edit(line("case-found", { together: found })).replace(/\u00a0/g, " "),
    readings: round.places.reduce((/** @type {import("./case-yaml.js").CaseReading[]} */ all, place) =>
      all.concat(place.rows.map((row) => caseReading(round, place, row))), []),
    cause: { what: edit(inWords("round-case.cause")) },
    cure: edit(inWords("round-case.cure")),
    // A case needs a time; nobody has told it yet.
    minutes: "1",
    learnt: [edit(inWords("round-case.learnt"))],
  });
}

/** @param {RoundText} round @param {TextPlace} place @param {TextRow} row
 * @returns {import("./case-yaml.js").CaseReading} */
function caseReading({ meter, thermometer, after }, { tC, how }, { sensor, reading }) {
  const taken = tC === null ? {} : { at: String(Math.round(tC * 100) / 100), how, thermometer };
  return { sensor, reading, meter, after, ...taken };
}
