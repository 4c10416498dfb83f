// What an earlier release kept on this phone, family by family and part by part: put into one closed
// job, so that nothing of it is lost and nothing of it is taken for the machine at hand.

import { remember, remembered, rememberedAs } from "../look.js";
import { changeJob, closeJob, currentJob, chooseJob, startJob, timeNow } from "./jobs.js";

/** @typedef {import("./jobs.js").Job} Job */

/** @param {string} key @returns {Object<string, any>} */
function record(key) {
  return rememberedAs(key, {}) || {};
}

/** Readings, ticks and words of an earlier release. It kept no times: those say when it was taken over.
 * @param {string} family @param {{parts: string[], mark: string}} about mark: what the job is called
 * @returns {boolean} whether there was anything */
export function takeOverOlder(family, { parts, mark }) {
  const lists = parts.reduce((names, id) => names.concat(`${id}-refit`, `${id}-prove`),
    /** @type {string[]} */ ([]));
  const words = record(`ohm.job.${family}`);
  const keys = [`ohm.typed.${family}`, `ohm.round.${family}`, `ohm.job.${family}`,
    ...parts.map((id) => `ohm.typed.part.${id}`), ...lists.map((list) => `ohm.ticks.${list}`)];
  // A job of this release is a record with a version.
  const there = keys.filter((key) => remembered(key) !== null && record(key).version === undefined);
  if (!there.length) return false;
  const before = currentJob(family);
  const { id } = startJob(family, { mark });
  changeJob(id, (job) => {
    Object.assign(job.words, words);
    delete job.words.code;
    if (words.code) job.codes.push({ code: words.code, shown: words.code, time: timeNow() });
    lists.forEach((list) => {
      const ticked = (remembered(`ohm.ticks.${list}`) || "").split(" ").filter(Boolean);
      if (!ticked.length) return;
      job.ticks[list] = {
        ticked: ticked.filter((word) => word !== "complete"), complete: ticked.includes("complete"),
      };
    });
    addReadings(job, record(`ohm.typed.${family}`), parts);
  });
  closeJob(id);
  if (before) chooseJob(before.id);
  there.forEach((key) => { remember(key, null); });
  return true;
}

/** @param {Job} job @param {Object<string, any>} sensors by sensor, after a repair by `sensor@after`
 * @param {string[]} parts */
function addReadings(job, sensors, parts) {
  /** @param {string} what @param {string} of @param {boolean} after @param {Object<string, any>} typed */
  const add = (what, of, after, typed) => {
    job.measurements.push({ id: job.measurements.length + 1, what, of, after, time: timeNow(), typed });
  };
  Object.keys(sensors).sort().forEach((key) => {
    const [of, after] = key.split("@");
    if (sensors[key] && sensors[key].reading) add("reading", of, after === "after", sensors[key]);
  });
  parts.forEach((of) => {
    const kept = record(`ohm.typed.part.${of}`);
    Object.keys(kept).forEach((what) => { add(what, of, false, kept[what]); });
  });
}
