// What was measured at one sensor in the current job: what stood before is listed, what is typed now
// is added, and nothing is overwritten.

import { JOB_EVENT } from "../job/changed.js";
import { liveJob } from "../job/jobs.js";
import {
  addMeasurement, changeMeasurement, measurementsOf, removeMeasurement,
} from "../job/measurements.js";
import { statement } from "../answers/statement.js";
import { clockTime } from "./clock.js";
import { showEarlier } from "./earlier.js";
import { lineAt, voltsReadWords } from "./earlier-line.js";
import { toolsOf } from "./team.js";

/** What was read longer ago was read of another state of things: common practice, no source. */
const VISIT_H = 4;

/** @typedef {import("../job/jobs.js").Job} Job */
/** @typedef {import("../job/jobs.js").Measurement} Measurement */
/** What is typed, and the verdict on it where its form keeps one.
 * @typedef {{typed: Object<string, string>, after: boolean, state?: string}} Kept */

/**
 * @param {HTMLElement} earlier where those before appear
 * @param {{family: string, sensor: string, otherJob: function(): void, removed: function(): void}} of
 *   otherJob: called when another job became the current one; removed: when one before was taken out
 */
export function sensorReadings(earlier, { family, sensor, otherJob, removed }) {
  /** Those that are typed now, by what they are: reading, volts, controller.
   * @type {Object<string, number>} */
  let now = {};
  let jobId = idOf(liveJob(family));

  function list() {
    showEarlier(earlier, { family, of: sensor, line, but: Object.values(now), removed });
  }

  document.addEventListener(JOB_EVENT, () => {
    const before = jobId;
    jobId = idOf(liveJob(family));
    if (before && before !== jobId) otherJob();
    list();
  });
  document.addEventListener("ohm:unit", list);
  list();

  return {
    /** Begin another reading; the one before is done. */
    begin() {
      now = {};
      list();
    },
    /** @param {string} what reading, volts or controller @param {?Kept} kept nothing takes it back */
    keep(what, kept) {
      const id = now[what];
      if (!kept) {
        if (id) removeMeasurement(family, id);
        delete now[what];
      } else if (!id || !changeMeasurement(family, id, kept)) {
        now[what] = addMeasurement(family, { what, of: sensor, ...kept });
      }
      list();
    },
    /** @returns {import("../answers/reading-earlier.js").EarlierReading[]} those of this visit,
     *   before a repair, the newest first */
    earlier() {
      return measurementsOf(liveJob(family), { what: "reading", of: sensor })
        .filter(({ id, after, time }) => id !== now.reading && !after
          && Date.now() - Date.parse(time) < VISIT_H * 3600e3)
        .reverse().map(({ time, typed }) => ({
          reading: typed.reading, at: typed.at, tools: toolsOf(typed), when: clockTime(time),
        }));
    },
    /** @returns {{code: string, shown: string}} that the machine showed last; empty for none */
    newestCode() {
      const codes = (liveJob(family) || { codes: [] }).codes;
      return codes.length ? codes[codes.length - 1] : { code: "", shown: "" };
    },
  };
}

/** @param {?Job} job */
const idOf = (job) => (job ? job.id : "");

/** @param {Measurement} measured */
function line({ what, typed }) {
  if (what === "volts") return lineAt(typed, voltsReadWords(typed));
  if (what === "controller") {
    return lineAt(typed, statement("earlier-reading.controller", { shown_c: Number(typed.shown) }));
  }
  return lineAt(typed, statement("earlier-reading.shown", { typed: typed.reading }));
}
