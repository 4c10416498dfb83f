// What was ticked off in a job, list by list.

import { changeJob, currentJob, jobForWriting } from "./jobs.js";

/** @typedef {import("./jobs.js").Ticks} Ticks */

/** @param {string} family @param {string} list @returns {Ticks} of the current job */
export function jobTicks(family, list) {
  const job = currentJob(family);
  return (job && job.ticks[list]) || { ticked: [], complete: false };
}

/** @param {string} family @param {string} list @param {Ticks} ticks */
export function keepJobTicks(family, list, ticks) {
  const empty = !ticks.ticked.length && !ticks.complete;
  if (empty && !currentJob(family)) return;
  changeJob(jobForWriting(family).id, (job) => {
    if (empty) delete job.ticks[list];
    else job.ticks[list] = ticks;
  });
}
