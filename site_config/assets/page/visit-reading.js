// One reading of one visit, as the job keeps it: added with the first figure, changed while typing
// goes on, taken out when nothing is left of it. What was read before is never written over.

import { currentAmong, currentJob } from "../job/jobs.js";
import { addMeasurement, changeMeasurement, removeMeasurement } from "../job/measurements.js";

/**
 * @typedef {{
 *   family: function(): string, id: function(): ?number, elsewhere: function(): boolean,
 *   keep: function(?Object<string, any>, boolean): void, another: function(): void}} VisitReading
 *   family: whose job it goes to; elsewhere: whether another job became current since it was begun;
 *   keep: what is typed now, and whether after the repair; another: the next typing is a new one
 */

/**
 * @param {{families: string[], what: string, of: string}} reading families: of a part that several
 *   machines have, the one whose job was touched last
 * @returns {VisitReading}
 */
export function visitReading({ families, what, of }) {
  /** @type {?{family: string, job: string, id: number}} */
  let begun = null;

  const family = () => {
    const job = currentAmong(families);
    return job ? job.family : families[0];
  };
  const jobOf = (/** @type {string} */ name) => (currentJob(name) || { id: "" }).id;

  /** @param {Object<string, any>} typed @param {boolean} after */
  function write(typed, after) {
    if (begun && changeMeasurement(begun.family, begun.id, { typed, after })) return;
    const name = family();
    const id = addMeasurement(name, { what, of, typed, after });
    begun = { family: name, job: jobOf(name), id };
  }

  function forget() {
    if (begun) removeMeasurement(begun.family, begun.id);
    begun = null;
  }

  return {
    family,
    id: () => (begun ? begun.id : null),
    elsewhere: () => begun !== null && jobOf(begun.family) !== begun.job,
    keep(typed, after) {
      if (typed) write(typed, after);
      else forget();
    },
    another() { begun = null; },
  };
}
