// The readings of one sensor in the current job: those before are listed, the one that is typed now
// is added, and nothing is overwritten.

import { JOB_EVENT } from "../job/changed.js";
import { currentJob, isOld } from "../job/jobs.js";
import { addMeasurement, changeMeasurement, removeMeasurement } from "../job/measurements.js";
import { statement } from "../answers/statement.js";
import { showEarlier } from "./earlier.js";
import { lineAt } from "./earlier-line.js";

/** @typedef {import("../job/jobs.js").Job} Job */
/** @typedef {import("../job/jobs.js").Measurement} Measurement */

/**
 * @param {HTMLElement} earlier where those before appear
 * @param {{family: string, sensor: string, otherJob: function(): void}} of
 *   otherJob: called when another job became the current one
 */
export function sensorReadings(earlier, { family, sensor, otherJob }) {
  /** The one that is typed now; 0 for none yet. */
  let now = 0;
  let jobId = idOf(jobNow());

  /** @returns {?Job} that readings belong to; none where it was left alone for long */
  function jobNow() {
    const job = currentJob(family);
    return job && !isOld(job) ? job : null;
  }

  function list() {
    showEarlier(earlier, { family, what: "reading", of: sensor, line, but: now });
  }

  document.addEventListener(JOB_EVENT, () => {
    const before = jobId;
    jobId = idOf(jobNow());
    if (before && before !== jobId) otherJob();
    list();
  });
  document.addEventListener("ohm:unit", list);
  list();

  return {
    /** Begin another reading; the one before is done. */
    begin() {
      now = 0;
      list();
    },
    /** @param {boolean} after the repair @param {?Object<string, string>} typed nothing takes it back */
    keep(after, typed) {
      if (!typed) {
        if (now) removeMeasurement(family, now);
        now = 0;
      } else if (!now || !changeMeasurement(family, now, { after, typed })) {
        now = addMeasurement(family, { what: "reading", of: sensor, after, typed });
      }
      list();
    },
    /** @returns {{code: string, shown: string}} that the machine showed last; empty for none */
    newestCode() {
      const codes = (jobNow() || { codes: [] }).codes;
      return codes.length ? codes[codes.length - 1] : { code: "", shown: "" };
    },
  };
}

/** @param {?Job} job */
const idOf = (job) => (job ? job.id : "");

/** @param {Measurement} measured */
function line({ typed }) {
  return lineAt(typed, statement("earlier-reading.shown", { typed: typed.reading }));
}
