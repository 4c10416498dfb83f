// Two jobs that turn out to be one machine on two days: the later goes into the earlier.

import { changeJob, chooseJob, forgetJob } from "./jobs.js";
import { movePhotos } from "./photos.js";
import { store } from "./store.js";

/** @typedef {import("./jobs.js").Job} Job */

/** @param {Job} job @returns {?Job} the old one that it was begun beside, unless that is closed by now
 *   or somebody said that they are two machines */
export function begunBeside({ beside }) {
  const older = beside ? store.of(beside) : null;
  return older && !older.closed ? older : null;
}

/** Put all of a job into the one that it was begun beside, and go on with that.
 * @param {Job} job */
export async function joinOlder(job) {
  const older = begunBeside(job);
  if (!older) return;
  changeJob(older.id, (into) => { joined(into, job); });
  await movePhotos(job.id, older.id);
  forgetJob(job.id);
  chooseJob(older.id);
}

/** Say that a job and the old one that it was begun beside are two machines.
 * @param {Job} job */
export function keepApart({ id }) {
  changeJob(id, (job) => { job.beside = ""; });
}

/** Readings are added; of what stands once, the later counts.
 * @param {Job} older changed @param {Job} later */
function joined(older, later) {
  const last = Math.max(0, ...older.measurements.map(({ id }) => id));
  older.mark = older.mark || later.mark;
  older.plate = older.plate || later.plate;
  older.codes = older.codes.filter((before) => !later.codes.some((code) =>
    code.code === before.code && code.shown === before.shown)).concat(later.codes);
  older.measurements.push(...later.measurements.map((read) => ({ ...read, id: read.id + last })));
  older.photos.push(...later.photos);
  older.temperatures = { ...older.temperatures, ...later.temperatures };
  older.ticks = { ...older.ticks, ...later.ticks };
  older.words = { ...older.words, ...later.words };
  older.proofs = byPart(older.proofs, later.proofs);
  older.settings = byPart(older.settings, later.settings);
}

/** @typedef {Object<string, Object<string, string>>} ByPart */
/** @param {ByPart} older @param {ByPart} later @returns {ByPart} */
function byPart(older, later) {
  const found = { ...older };
  Object.keys(later).forEach((part) => { found[part] = { ...older[part], ...later[part] }; });
  return found;
}
