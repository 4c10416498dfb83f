// The readings of one sensor in the current job: those before are listed, the one that is typed now
// is added, and nothing is overwritten.

import { JOB_EVENT } from "../job/changed.js";
import { currentJob, isOld } from "../job/jobs.js";
import {
  addMeasurement, changeMeasurement, measurementsOf, removeMeasurement,
} from "../job/measurements.js";
import { statement } from "../answers/statement.js";
import { nameOf, phrase } from "../words/phrase.js";
import { button, el } from "./element.js";
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

  function showEarlier() {
    const earlier = measurementsOf(jobNow(), { what: "reading", of: sensor })
      .filter(({ id }) => id !== now);
    list.hidden = !earlier.length;
    list.replaceChildren(...earlier.map(line));
  }

  /** @param {Measurement} measured */
  function line(measured) {
    const words = readingInWords(measured);
    const remove = button("×", () => {
      if (window.confirm(phrase(statement("earlier.remove", { reading: words })))) {
        removeMeasurement(family, measured.id);
      }
    }, "ohm-remove");
    remove.setAttribute("aria-label", phrase(statement("earlier.remove-key", { reading: words })));
    return el("li", null, el("span", null, words), remove);
  }

  document.addEventListener(JOB_EVENT, () => {
    const before = jobId;
    jobId = idOf(jobNow());
    if (before && before !== jobId) otherJob();
    showEarlier();
  });
  document.addEventListener("ohm:unit", showEarlier);
  showEarlier();

  return {
    /** Begin another reading; the one before is done. */
    begin() {
      now = 0;
      showEarlier();
    },
    /** @param {boolean} after the repair @param {?Object<string, string>} typed nothing takes it back */
    keep(after, typed) {
      if (!typed) {
        if (now) removeMeasurement(family, now);
        now = 0;
      } else if (!now || !changeMeasurement(family, now, { after, typed })) {
        now = addMeasurement(family, { what: "reading", of: sensor, after, typed });
      }
      showEarlier();
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
 * @returns {string} such as before: 5.1k at 8.0 °C, held on, 14:02 */
function readingInWords({ after, time, typed }) {
  const clock = new Date(time).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
  const timed = typed.at !== "" && typed.at !== undefined;
  const how = typed.how ? nameOf("placement", typed.how, "short") : "";
  const kind = !timed ? "untimed" : how ? "placed" : "unplaced";
  return phrase(statement(`earlier.${kind}`, {
    when: nameOf("earlier-when", after ? "after" : "before"),
    reading: typed.reading, t_c: Number(typed.at), how, clock,
  }), { unit: unit.now() });
}
