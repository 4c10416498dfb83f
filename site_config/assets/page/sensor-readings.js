// The readings of one sensor in the current job: those before are listed, the one that is typed now
// is added, and nothing is overwritten.

import { JOB_EVENT } from "../job/changed.js";
import { currentJob, isOld } from "../job/jobs.js";
import { addMeasurement, changeMeasurement, removeMeasurement } from "../job/measurements.js";
import { statement } from "../answers/statement.js";
import { nameOf, phrase } from "../words/phrase.js";
import { showEarlier } from "./earlier.js";
import { unit } from "./unit.js";

/** @typedef {import("../job/jobs.js").Job} Job */
/** @typedef {import("../job/jobs.js").Measurement} Measurement */

/**
 * @param {HTMLElement} list where those before appear
 * @param {{family: string, sensor: string, otherJob: function(): void}} of
 *   otherJob: called when another job became the current one
 */
export function sensorReadings(list, { family, sensor, otherJob }) {
  /** The one that is typed now; 0 for none yet. */
  let now = 0;
  let jobId = idOf(jobNow());

  /** @returns {?Job} that readings belong to; none where it was left alone for long */
  function jobNow() {
    const job = currentJob(family);
    return job && !isOld(job) ? job : null;
  }

  function showBefore() {
    showEarlier(list, {
      family, what: "reading", of: sensor, line: readingInWords, but: now || null,
    });
  }

  document.addEventListener(JOB_EVENT, () => {
    const before = jobId;
    jobId = idOf(jobNow());
    if (before && before !== jobId) otherJob();
    showBefore();
  });
  document.addEventListener("ohm:unit", showBefore);
  showBefore();

  return {
    /** Begin another reading; the one before is done. */
    begin() {
      now = 0;
      showBefore();
    },
    /** @param {boolean} after the repair @param {?Object<string, string>} typed nothing takes it back */
    keep(after, typed) {
      if (!typed) {
        if (now) removeMeasurement(family, now);
        now = 0;
      } else if (!now || !changeMeasurement(family, now, { after, typed })) {
        now = addMeasurement(family, { what: "reading", of: sensor, after, typed });
      }
      showBefore();
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

/** @param {Measurement} measured
 * @returns {string} such as 5.1k at 8.0 °C, held on */
function readingInWords({ typed }) {
  const timed = typed.at !== "" && typed.at !== undefined;
  const how = typed.how ? nameOf("placement", typed.how, "short") : "";
  const kind = !timed ? "without" : how ? "at" : "at-somehow";
  return phrase(statement(`earlier-reading.${kind}`, {
    reading: typed.reading, t_c: Number(typed.at), how,
  }), { unit: unit.now() });
}
