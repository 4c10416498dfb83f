// What was measured in a job. A measurement is added; nothing that was read before is overwritten.

import { changeJob, currentJob, jobForWriting, timeNow } from "./jobs.js";

/** @typedef {import("./jobs.js").Job} Job */
/** @typedef {import("./jobs.js").Measurement} Measurement */

/** @param {string} family @param {{what: string, of: string, after?: boolean,
 *   typed: Object<string, any>, state?: string}} measured
 * @returns {number} its number in the job */
export function addMeasurement(family, { what, of, after = false, typed, state }) {
  const job = jobForWriting(family);
  const same = (/** @type {Measurement} */ before) => before.what === what && before.of === of
    && Boolean(before.after) === after && JSON.stringify(before.typed) === JSON.stringify(typed);
  // What a newer release put back into its form is the reading that was kept, and no second one.
  const carried = "carried" in document.documentElement.dataset && job.measurements.find(same);
  if (carried) return carried.id;
  const id = 1 + Math.max(0, ...job.measurements.map((before) => before.id));
  changeJob(job.id, ({ measurements }) => {
    measurements.push({ id, what, of, after, time: timeNow(), typed, state });
  });
  return id;
}

/** Go on typing at one; nothing where it is gone, as when another job became current.
 * @param {string} family @param {number} id
 * @param {{after?: boolean, typed: Object<string, any>, state?: string}} now
 * @returns {boolean} whether it was there */
export function changeMeasurement(family, id, { after, typed, state }) {
  const job = currentJob(family);
  if (!job || !job.measurements.some((measured) => measured.id === id)) return false;
  changeJob(job.id, ({ measurements }) => {
    const found = measurements.find((measured) => measured.id === id);
    if (!found) return;
    found.typed = typed;
    found.state = state;
    found.time = timeNow();
    if (after !== undefined) found.after = after;
  });
  return true;
}

/** @param {string} family @param {number} id */
export function removeMeasurement(family, id) {
  const job = currentJob(family);
  if (!job) return;
  changeJob(job.id, (found) => {
    found.measurements = found.measurements.filter((measured) => measured.id !== id);
  });
}

/** @param {?Job} job @param {{what?: string, of?: string}} [wanted] all of it where nothing is said
 * @returns {Measurement[]} oldest first */
export function measurementsOf(job, wanted = {}) {
  const { what, of } = wanted;
  return job ? job.measurements.filter((measured) => (what === undefined || measured.what === what)
    && (of === undefined || measured.of === of)) : [];
}
