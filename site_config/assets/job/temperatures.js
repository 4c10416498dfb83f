// The temperatures of a job by the place where they were taken: offered again with their age.

import { changeJob, jobForWriting, liveJob, timeNow } from "./jobs.js";

/** @typedef {import("./jobs.js").KeptTemperature} KeptTemperature */

/** @param {string} family @param {string} place where several things rest together, or one alone
 * @param {{t_c: string, how: string, thermometer: string}} taken in °C */
export function keepTemperature(family, place, { t_c, how, thermometer }) {
  changeJob(jobForWriting(family).id, (job) => {
    job.temperatures[place] = { t_c, how, thermometer, time: timeNow() };
  });
}

/** @param {string} family @param {string} place
 * @returns {?KeptTemperature} null where none was taken in the current job, or the job is old */
export function temperatureAt(family, place) {
  const job = liveJob(family);
  return (job && job.temperatures[place]) || null;
}
