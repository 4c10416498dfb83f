// Where the jobs of this phone stand: one record each in its storage. Where the phone refuses to
// keep them, or has no more room, they go on in this page's memory, and the page can say so.

import { alike } from "../look.js";
import { aloud } from "./changed.js";

const PREFIX = "ohm.job.";
/** The kind of record that this release writes; a newer one on the phone is left as it is. */
export const JOB_VERSION = 1;

/** @typedef {import("./jobs.js").Job} Job */
/** "" when all is kept; "memory": kept nowhere; "full": what is newest is not kept; "newer": there
 * are jobs of a newer release, which this one cannot read.
 * @typedef {""|"memory"|"full"|"newer"} Trouble */

/** What storage refused to take, by key; null marks what it refused to forget.
 * @type {Map<string, ?string>} */
const refused = new Map();
let full = false;
/** Whether storage took something once: tried again at each change, two windows would wake each
 * other for ever. Whether it may still be reached, a look says. */
let takes = false;

/** @param {string} key @returns {?string} */
function raw(key) {
  const held = refused.get(key);
  if (held !== undefined) return held;
  try { return localStorage.getItem(key); } catch (denied) { return null; }
}

/** @param {string} key @param {?string} value null forgets it */
function put(key, value) {
  try {
    if (value === null) localStorage.removeItem(key);
    else localStorage.setItem(key, value);
    refused.delete(key);
    if (!refused.size) full = false;
  } catch (denied) {
    full = denied instanceof DOMException && denied.name === "QuotaExceededError";
    refused.set(key, value);
  }
}

/** @returns {string[]} of every job that is kept, or held in memory */
function keys() {
  const found = new Set(Array.from(refused.keys()).filter((key) => refused.get(key) !== null));
  try {
    for (let i = 0; i < localStorage.length; i++) found.add(localStorage.key(i) || "");
  } catch (denied) { /* nothing is kept here */ }
  return Array.from(found).filter((key) => key.startsWith(PREFIX)).sort();
}

/** @param {string} key @returns {{version?: number}|null} null where nothing readable stands */
function record(key) {
  try {
    const found = JSON.parse(raw(key) || "null");
    return found && typeof found === "object" ? found : null;
  } catch (broken) {
    return null;
  }
}

/** What of a job its pages rely on; one that is spoilt stays on the phone, and is not shown. */
const JOB = {
  id: "", version: JOB_VERSION, family: "", mark: "", plate: "", codes: [{ code: "", shown: "" }], opened: "",
  touched: "", closed: "", temperatures: { "*": {} }, measurements: [{ what: "", of: "", typed: {} }],
  ticks: { "*": { ticked: [""] } }, proofs: { "*": { "*": "" } }, settings: { "*": { "*": "" } },
  words: { "*": "" }, photos: [{ id: "" }],
};

/** @param {string} key @returns {?Job} */
function jobAt(key) {
  const found = record(key);
  if (!found || found.version !== JOB_VERSION || !alike(found, JOB)) return null;
  const job = /** @type {Job} */ (/** @type {unknown} */ (found));
  return PREFIX + job.id === key && Date.parse(job.touched) ? job : null;
}

export const store = {
  /** @returns {Job[]} */
  all() {
    /** @type {Job[]} */
    const found = [];
    keys().map(jobAt).forEach((job) => { if (job) found.push(job); });
    return found;
  },
  /** @param {string} id @returns {?Job} */
  of(id) { return jobAt(PREFIX + id); },
  /** @param {Job} job */
  keep(job) {
    put(PREFIX + job.id, JSON.stringify(job));
    aloud();
  },
  /** @param {string} id */
  forget(id) {
    put(PREFIX + id, null);
    // A job that storage never took is gone with its place in memory.
    refused.delete(PREFIX + id);
    aloud();
  },
  /** @returns {Trouble} */
  trouble() {
    if (refused.size) return full ? "full" : "memory";
    if (!keeps()) return "memory";
    const newer = keys().some((key) => Number((record(key) || {}).version) > JOB_VERSION);
    return newer ? "newer" : "";
  },
};

/** @returns {boolean} whether storage takes anything at all */
function keeps() {
  try {
    if (takes) return localStorage.length >= 0;
    localStorage.setItem("ohm.try", "1");
    localStorage.removeItem("ohm.try");
    takes = true;
    return true;
  } catch (denied) {
    // A full storage still keeps what it has.
    return denied instanceof DOMException && denied.name === "QuotaExceededError";
  }
}
