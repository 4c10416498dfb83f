// The jobs on this phone. A job is one machine: what it showed, what was measured, ticked, written
// down and photographed there. Several may be open; each family has at most one that is current.

import { remember, remembered, rememberedAs } from "../look.js";
import { aloud } from "./changed.js";
import { JOB_VERSION, store } from "./store.js";

/**
 * A code as the machine showed it; code: the entry's id, empty where none has it.
 * @typedef {{code: string, shown: string, time: string}} ShownCode
 * Temperature in °C as text, how and with what it was taken, and when.
 * @typedef {{t_c: string, how: string, thermometer: string, time: string}} KeptTemperature
 * what: reading, volts, controller, windings, insulation, loop; of: the id of a sensor or part;
 * typed: the fields as typed, temperatures in °C; state: the verdict that its form gave, where it
 * gave one: what needs no more than a curve is judged anew wherever it is shown.
 * @typedef {{id: number, what: string, of: string, after: boolean, time: string,
 *   typed: Object<string, any>, state?: string}} Measurement
 * @typedef {{ticked: string[], complete: boolean}} Ticks
 * @typedef {{id: string, time: string, words: string, chosen: boolean}} Photo
 * Times are ISO 8601; mark is the engineer's own, plate the machine's size; closed is empty while
 * it is open; beside: the old job that typing began it beside, until somebody says whether that is
 * the same machine; proofs and settings are by part, then by their place in its list; what the job
 * page asks in words is by the field's name.
 * @typedef {{id: string, version: number, family: string, mark: string, plate: string,
 *   codes: ShownCode[], opened: string, touched: string, closed: string,
 *   temperatures: Object<string, KeptTemperature>, measurements: Measurement[],
 *   ticks: Object<string, Ticks>, proofs: Object<string, Object<string, string>>,
 *   settings: Object<string, Object<string, string>>, words: Object<string, string>,
 *   photos: Photo[], beside?: string}} Job
 * @typedef {{mark?: string, plate?: string, code?: string, shown?: string, beside?: string}} Beginning
 */

/** A job that was left alone for so long is probably another machine: common practice, no source. */
const OLD_H = 12;

const CURRENT = "ohm.jobs.current";
/** The current jobs where the phone does not keep them; null where it does.
 * @type {?Object<string, string>} */
let held = null;

/** @returns {string} now, as jobs say times */
export function timeNow() { return new Date().toISOString(); }

/** @returns {Object<string, string>} job by family */
function current() {
  if (held) return { ...held };
  return rememberedAs(CURRENT, { "*": "" }) || {};
}

/** @param {string} family @param {?string} id null for none */
function makeCurrent(family, id) {
  const now = current();
  if (id === null) delete now[family];
  else now[family] = id;
  const record = Object.keys(now).length ? JSON.stringify(now) : null;
  remember(CURRENT, record);
  // A phone that is full keeps the older choice, and would bring another machine back.
  held = remembered(CURRENT) === record ? null : now;
}

/** @returns {Job[]} those touched last first */
export function allJobs() {
  const order = (/** @type {Job} */ { touched, id }) => `${touched} ${id}`;
  return store.all().sort((a, b) => (order(a) < order(b) ? 1 : -1));
}

/** @returns {Job[]} those that are not closed, touched last first */
export function openJobs() { return allJobs().filter(({ closed }) => !closed); }

/** @param {string} family @returns {?Job} the one that its pages write to; null where none is open */
export function currentJob(family) {
  const job = store.of(current()[family] || "");
  return job && !job.closed && job.family === family ? job : null;
}

/** The current job among several families, as of a part that more than one of them has.
 * @param {string[]} families @returns {?Job} the one touched last */
export function currentAmong(families) {
  return openJobs().find(({ id, family }) => {
    const job = families.includes(family) ? currentJob(family) : null;
    return job !== null && job.id === id;
  }) || null;
}

/** @param {Job} job @param {Date} [now] @returns {boolean} left alone for half a day */
export function isOld(job, now = new Date()) {
  return now.getTime() - Date.parse(job.touched) > OLD_H * 3600e3;
}

/** @param {string} family
 * @returns {?Job} the current one; none where it was left alone: that may be another machine */
export function liveJob(family) {
  const job = currentJob(family);
  return job && !isOld(job) ? job : null;
}

/** Begin a job; it is current from now on, and others of its family stay open.
 * @param {string} family @param {Beginning} [begun] @returns {Job} */
export function startJob(family, begun = {}) {
  const { mark = "", plate = "", code = "", shown = "", beside = "" } = begun;
  const time = timeNow();
  /** @type {Job} */
  const job = {
    id: newId(), version: JOB_VERSION, family, mark, plate,
    codes: code || shown ? [{ code, shown, time }] : [],
    opened: time, touched: time, closed: "",
    temperatures: {}, measurements: [], ticks: {}, proofs: {}, settings: {}, words: {}, photos: [], beside,
  };
  makeCurrent(family, job.id);
  store.keep(job);
  return job;
}

/** @returns {string} told apart from every other on this phone */
function newId() {
  let id = Date.now().toString(36);
  while (store.of(id)) id += "x";
  return id;
}

/** Take over the jobs of a family's former ids, each as it is: its age counts on.
 * @param {string} family @param {string} was */
export function adoptJobs(family, was) {
  allJobs().filter((job) => was.split(" ").includes(job.family)).forEach((job) => {
    if (current()[job.family] === job.id && !currentJob(family)) makeCurrent(family, job.id);
    store.keep({ ...job, family });
  });
}

/** Read a job again, change it, keep it: another tab may have changed it meanwhile.
 * @param {string} id @param {function(Job): void} change */
export function changeJob(id, change) {
  const job = store.of(id);
  if (!job) return;
  change(job);
  job.touched = timeNow();
  store.keep(job);
}

/** The job that something typed now belongs to. One is begun where none is open, and where the
 * open one is old: what was read today never mixes with another day's machine.
 * @param {string} family @returns {Job} */
export function jobForWriting(family) {
  const job = currentJob(family);
  if (!job) return startJob(family);
  return isOld(job) ? startJob(family, { beside: job.id }) : job;
}

/** @param {string} id of an open job: its family's pages write to it from now on */
export function chooseJob(id) {
  const job = store.of(id);
  if (!job) return;
  makeCurrent(job.family, id);
  changeJob(id, (found) => { found.closed = ""; });
}

/** @param {string} id of a job that is done; it stays on the phone until it is cleared */
export function closeJob(id) {
  const job = store.of(id);
  if (!job) return;
  if (current()[job.family] === id) makeCurrent(job.family, null);
  changeJob(id, (found) => { found.closed = timeNow(); });
}

/** Forget everything of a job but its photos, which job/photos.js forgets.
 * @param {string} id */
export function forgetJob(id) {
  const job = store.of(id);
  if (job && current()[job.family] === id) makeCurrent(job.family, null);
  store.forget(id);
  aloud();
}

/** Add a code that the machine shows; the newest counts, and one shown twice stands once.
 * @param {string} family @param {{code: string, shown: string}} code */
export function addCode(family, { code, shown }) {
  const { id, codes } = jobForWriting(family);
  const newest = codes[codes.length - 1];
  if (newest && newest.code === code && newest.shown === shown) return;
  changeJob(id, (job) => {
    job.codes = job.codes.filter((before) => before.code !== code || before.shown !== shown);
    job.codes.push({ code, shown, time: timeNow() });
  });
}
