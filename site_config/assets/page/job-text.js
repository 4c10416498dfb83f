// Put a job into plain words that a customer and an office can read. Pure: it touches no page.

import { statement } from "../answers/statement.js";
import { capital, nameOf, phrase } from "../words/phrase.js";

/**
 * A part's list of what to put back: ticked of count, and whether somebody called it complete.
 * @typedef {{name: string, ticked: number, count: number, complete: boolean}} RefitList
 * What is empty is left out; readings, needed, proofs and cautions are lines already.
 * @typedef {{family: string, on: string, by: string, shown: string, found: string,
 *   readings: string[], cause: string, cure: string, refrigerant: string, minutes: string,
 *   needed: string[], lists: RefitList[], proved: string[], unproved: string[],
 *   cautions: string[]}} Job
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

/** @param {Job} job @returns {string} plain text */
export function jobText(job) {
  const { on, by, cause, refrigerant, minutes } = job;
  const parts = {
    shown: [job.shown],
    found: [job.found, cause && jobLine("cause", { cause })],
    measured: job.readings,
    done: [job.cure, refrigerant && jobLine("refrigerant", { refrigerant }),
      minutes && jobLine("time", { minutes })],
    needed: job.needed,
    back: job.lists.map(refitLine),
    proved: job.proved,
    unproved: job.unproved,
    mind: job.cautions,
  };
  const rows = [job.family, by ? jobWords("day-by", { on, by }) : on];
  Object.entries(parts).forEach(([name, all]) => {
    const lines = all.filter(Boolean);
    if (lines.length) rows.push("", nameOf("job-part", name), ...lines.map((line) => `- ${line}`));
  });
  return `${rows.join("\n")}\n`;
}
