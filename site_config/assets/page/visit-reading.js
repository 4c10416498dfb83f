// One reading of one visit, as the job keeps it: added with the first figure, changed while typing
// goes on, taken out when nothing is left of it. What was read before is never written over.

import { currentAmong, isOld } from "../job/jobs.js";
import { addMeasurement, changeMeasurement, removeMeasurement } from "../job/measurements.js";

/** state: the verdict on it, or nothing.
 * @typedef {{typed: Object<string, any>, after: boolean, state: string}} Kept */
/**
 * @typedef {{
 *   family: function(): string, id: function(): ?number, elsewhere: function(): boolean,
 *   keep: function(?Kept): void, another: function(): void}} VisitReading
 *   family: whose job it goes to; elsewhere: whether another job became current since that was asked,
 *   or since something was kept; keep: what is typed now, nothing takes it back; another: the next
 *   typing is a new one
 */

/**
 * @param {{families: string[], what: string, of: string}} reading families: of a part that several
 *   machines have, the one whose job was touched last
 * @returns {VisitReading}
 */
export function visitReading({ families, what, of }) {
  /** @type {?{family: string, id: number}} */
  let begun = null;
  let jobId = idNow();

  function family() {
    const job = currentAmong(families);
    return job ? job.family : families[0];
  }

  /** @returns {string} of the job that a reading would go to; nothing where one would be begun */
  function idNow() {
    const job = currentAmong(families);
    return job && !isOld(job) ? job.id : "";
  }

  /** @param {Kept} now */
  function write(now) {
    if (begun && changeMeasurement(begun.family, begun.id, now)) return;
    const name = family();
    const id = addMeasurement(name, { what, of, ...now });
    begun = { family: name, id };
  }

  function forget() {
    if (begun) removeMeasurement(begun.family, begun.id);
    begun = null;
  }

  return {
    family,
    id: () => (begun ? begun.id : null),
    elsewhere() {
      const before = jobId;
      jobId = idNow();
      return before !== "" && before !== jobId;
    },
    keep(now) {
      if (now) write(now);
      else forget();
      jobId = idNow();
    },
    another() { begun = null; },
  };
}
