// The readings of a round in the job of its family: measurements of their sensors that say so. What
// was read on a sensor's own page is another measurement, which no round touches.

import { changeJob, liveJob } from "../job/jobs.js";
import { addMeasurement, changeMeasurement, measurementsOf, removeMeasurement } from "../job/measurements.js";

/** @typedef {import("../job/jobs.js").Measurement} Measurement */
/** One reading as typed, its temperature in °C as text; place: the key of where the sensor rests.
 * @typedef {{reading: string, meter: string, place: string, at?: string, how?: string,
 *   thermometer?: string}} RoundTyped */

/** @param {string} family @param {boolean} after the repair
 * @returns {Object<string, Measurement>} by sensor, the newest of each */
export function roundReadings(family, after) {
  /** @type {Object<string, Measurement>} */
  const readings = {};
  measurementsOf(liveJob(family), { what: "reading" }).forEach((measured) => {
    if (measured.typed.round === "yes" && measured.after === after) readings[measured.of] = measured;
  });
  return readings;
}

/** @param {string} family @param {{sensor: string, after: boolean, typed: ?RoundTyped}} now nothing
 *   typed takes it out of the round */
export function keepRoundReading(family, { sensor, after, typed }) {
  const before = roundReadings(family, after)[sensor];
  if (!typed) {
    if (before) removeMeasurement(family, before.id);
    return;
  }
  const marked = { ...typed, round: "yes" };
  if (before) changeMeasurement(family, before.id, { typed: marked });
  else addMeasurement(family, { what: "reading", of: sensor, after, typed: marked });
}

/** @param {string} family @param {boolean} after
 * @returns {Measurement[]} those of the round that were taken out, and no others */
export function clearRound(family, after) {
  const job = liveJob(family);
  if (!job) return [];
  const ofRound = (/** @type {Measurement} */ { what, typed, after: then }) =>
    what === "reading" && typed.round === "yes" && then === after;
  const removed = job.measurements.filter(ofRound);
  changeJob(job.id, (found) => {
    found.measurements = found.measurements.filter((measured) => !ofRound(measured));
  });
  return removed;
}

/** Put back what was cleared, as it was read then; what was read since stays.
 * @param {string} family @param {Measurement[]} removed */
export function putBackRound(family, removed) {
  const job = liveJob(family);
  if (!job) return;
  changeJob(job.id, ({ measurements }) => {
    removed.forEach((measured) => {
      const id = 1 + Math.max(0, ...measurements.map((other) => other.id));
      measurements.push({ ...measured, id });
    });
    measurements.sort((a, b) => (a.time < b.time ? -1 : 1));
  });
}
