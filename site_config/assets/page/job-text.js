// Put a job into plain words that a customer and an office can read. Pure: it touches no page.

import { statement } from "../answers/statement.js";
import { capital, nameOf, phrase } from "../words/phrase.js";

/**
 * A part's list of what to put back: ticked of count, and whether somebody called it complete.
 * @typedef {{name: string, ticked: number, count: number, complete: boolean}} RefitList
 * What is empty is left out; all but the heads are lines already.
 * @typedef {{family: string, mark: string, plate: string, on: string, by: string, shown: string[],
 *   found: string, settings: string[], readings: string[], cause: string, cure: string,
 *   refrigerant: string, minutes: string, needed: string[], lists: RefitList[], fitted: string,
 *   proved: string[], unproved: string[], photos: string[], cautions: string[]}} JobInWords
 * @typedef {{name: string, title: string, lines: string[]}} JobPartInWords
 */

/** @param {string} name @param {Object<string, any>} [figures]
 * @returns {string} as it is, where it begins with words of the notes: a code keeps its letters */
export const jobWords = (name, figures = {}) => phrase(statement(`job.${name}`, figures));

/** @param {string} name @param {Object<string, any>} [figures] @returns {string} a capital first */
export const jobLine = (name, figures = {}) => capital(jobWords(name, figures));

/** @param {RefitList} list @returns {string} */
function refitLine({ name, ticked, count, complete }) {
  const state = complete ? "complete" : ticked < count ? "left" : "not-called";
  return jobWords(`back-${state}`, { name, ticked, count });
}

/** @param {JobInWords} job @returns {string[]} which machine, when, who */
export function jobHeads({ family, mark, plate, on, by }) {
  return [
    family,
    [mark, plate && jobWords("plate", { plate })].filter(Boolean).join(", "),
    by ? jobWords("day-by", { on, by }) : on,
  ].filter(Boolean);
}

/** @param {JobInWords} job @returns {JobPartInWords[]} those with something to say */
export function jobParts(job) {
  const { cause, refrigerant, minutes, fitted } = job;
  const parts = {
    shown: job.shown,
    found: [job.found, cause && jobLine("cause", { cause })],
    settings: job.settings,
    measured: job.readings,
    done: [job.cure, refrigerant && jobLine("refrigerant", { refrigerant }),
      minutes && jobLine("time", { minutes })],
    needed: job.needed,
    back: job.lists.map(refitLine),
    proved: [fitted && jobWords("fitted", { name: fitted }), ...job.proved],
    unproved: job.unproved,
    photos: job.photos,
    mind: job.cautions,
  };
  return Object.entries(parts)
    .map(([name, lines]) => ({ name, title: nameOf("job-part", name), lines: lines.filter(Boolean) }))
    .filter(({ lines }) => lines.length);
}

/** @param {JobInWords} job @returns {string} plain text */
export function jobText(job) {
  const rows = jobHeads(job);
  jobParts(job).forEach(({ title, lines }) => {
    rows.push("", title, ...lines.map((line) => `- ${line}`));
  });
  return `${rows.join("\n")}\n`;
}
