// The job page: everything that belongs to one machine, written down here and on the other pages, and
// handed over as a text, on paper, and as a case for the notes.

import { takeOverOlder } from "../job/older.js";
import { JOB_EVENT } from "../job/changed.js";
import { addCode, currentJob } from "../job/jobs.js";
import { WORDS } from "../catalog.js";
import { nameOf } from "../words/phrase.js";
import { clockTime, today } from "./clock.js";
import { el, link, part } from "./element.js";
import { formOf, openForm } from "./fields.js";
import { caseId, caseText, codeIn, missingIn } from "./job-case.js";
import { causeName, causeOf, needed, partProved } from "./job-family.js";
import { jobFields } from "./job-fields.js";
import { handOver } from "./job-hand-over.js";
import { measuredLines, measuredWords } from "./job-measured.js";
import { markOf } from "./job-naming.js";
import { showOthers } from "./job-others.js";
import { jobPhotos } from "./job-photos.js";
import { jobSheet } from "./job-sheet.js";
import { jobLine, jobText, jobWords } from "./job-text.js";

/** @typedef {import("../job/jobs.js").Job} Job */
/** @typedef {import("./job-family.js").JobFamily} JobFamily */
/** @typedef {import("./job-measured.js").MeasuredLine} MeasuredLine */
/** @typedef {import("./job-text.js").JobInWords} JobInWords */

/** A job that is not begun yet says nothing.
 * @type {Job} */
const NOTHING = {
  id: "", version: 0, family: "", mark: "", plate: "", codes: [], opened: new Date().toISOString(),
  touched: "", closed: "", temperatures: {}, measurements: [], ticks: {}, proofs: {}, settings: {},
  words: {}, photos: [],
};

/** @param {HTMLFormElement} form */
function jobPage(form) {
  const { family: familyId = "" } = form.dataset;
  /** @type {JobFamily} */
  const family = JSON.parse(form.dataset.job || "{}");
  const outcome = part(document, ".ohm-job-outcome");
  const text = part(outcome, ".ohm-job-text");
  const yaml = part(outcome, ".ohm-case-text");
  const fields = jobFields(form, { familyId, family });
  const photos = jobPhotos(form, familyId);
  const now = () => currentJob(familyId) || NOTHING;
  const hands = handOver(outcome, {
    job: now,
    text: () => text.textContent || "",
    yaml: () => yaml.textContent || "",
    id: () => caseId(now(), { family, familyId, on: today() }),
  });

  function show() {
    const job = now();
    const measured = measuredLines(job, family);
    const summary = inWords(job, { family, measured });
    fields.show(job);
    photos.show(job);
    part(form, ".ohm-job-none").hidden = job.id !== "";
    listMeasured(part(form, ".ohm-job-readings"), measured);
    text.textContent = jobText(summary);
    jobSheet(part(document, ".ohm-job-sheet"), { summary, measured, photos: photos.pictures() });
    yaml.textContent = caseText({
      job, family, familyId, measured, on: today(),
      id: caseId(job, { family, familyId, on: today() }),
    });
    const missing = missingIn(job, family);
    hands.show(missing.length ? jobLine("missing", { missing }) : "");
    showOthers(part(document, ".ohm-job-others"), { familyId, says: hands.says });
  }

  function takeCode() {
    // A code's page leads here with its own code: it wins over one that was kept.
    const asked = new URLSearchParams(location.search).get("code") || "";
    if (!(asked in family.codes)) return;
    addCode(familyId, { code: asked, shown: family.codes[asked].shown.split(",")[0] });
    // Once: whoever then says another code and comes back keeps that.
    try { history.replaceState(null, "", location.pathname); } catch (refused) { /* from a folder */ }
  }

  takeCode();
  if (takeOverOlder(familyId, {
    parts: Object.keys(family.parts), mark: nameOf("job-older", "mark"),
  })) hands.says(jobLine("taken-over"));
  document.addEventListener(JOB_EVENT, show);
  document.addEventListener("ohm:unit", show);
  photos.changed(show);
  openForm(form);
  outcome.hidden = false;
  show();
}

/** @param {HTMLElement} place @param {MeasuredLine[]} measured each leads to its own page */
function listMeasured(place, measured) {
  if (!measured.length) {
    place.replaceChildren(el("p", "ohm-hint", jobLine("no-readings")));
    return;
  }
  // In a file of its own every page is an anchor.
  const single = document.querySelector("[data-pocket]") !== null;
  place.replaceChildren(el("ul", null, ...measured.map((line) => {
    const shape = line.state ? `${nameOf("verdict", line.state, "shape")} ` : "";
    const { of } = line.measured;
    const href = single ? `#${line.kind}-${of}` : `../${line.kind}/${of}.html`;
    return el("li", null, link(shape + measuredWords(line), href));
  })));
}

/** @param {Job} job @param {{family: JobFamily, measured: MeasuredLine[]}} about
 * @returns {JobInWords} */
function inWords(job, { family, measured }) {
  const words = (/** @type {string} */ name) => (job.words[name] || "").trim();
  const cause = causeOf(family, words("cause"), words("cause-words"));
  const proved = isProved(job, { family, cause, measured });
  const code = codeIn(job, family);
  return {
    family: family.name, mark: markOf(job), plate: job.mark ? job.plate : "", on: today(),
    by: words("by"),
    shown: job.codes.map(({ code: id, shown, time }) => {
      const known = family.codes[id];
      const figures = { shown, name: known && known.name };
      return jobWords(known ? "shown-at" : "shown-at-unknown", { ...figures, time: clockTime(time) });
    }),
    found: words("found"),
    settings: settingLines(job, family),
    readings: measured.map(measuredWords),
    cause: causeName(family, cause),
    cure: words("cure"), refrigerant: words("refrigerant"), minutes: words("minutes"),
    needed: needed(family, cause, proved),
    fitted: proved ? causeName(family, cause) : "",
    ...listsOf(job, { family, causeId: cause.kind === "part" ? cause.id : "" }),
    photos: job.photos.filter(({ chosen }) => chosen)
      .map(({ words: of }) => of || nameOf("job-photo", "unnamed")),
    cautions: [...(code ? family.codes[code].after : []), WORDS.caution["maker-first"].words],
  };
}

/** @param {Job} job
 * @param {{family: JobFamily, cause: import("./job-family.js").Cause, measured: MeasuredLine[]}} about
 * @returns {boolean} whether what was the cause is in and proved: a sensor by a reading after */
function isProved(job, { family, cause: { kind, id }, measured }) {
  if (kind === "part") return partProved(job, id, family.parts[id]);
  if (kind !== "sensor") return false;
  const after = measured.filter(({ measured: { what, of, after: repaired } }) =>
    what === "reading" && of === id && repaired);
  return after.length > 0 && after[after.length - 1].state === "within";
}

/** @param {Job} job @param {JobFamily} family @returns {string[]} */
function settingLines({ settings }, family) {
  /** @type {string[]} */
  const lines = [];
  Object.keys(settings).forEach((id) => {
    const { name, settings: called } = family.parts[id] || { name: id, settings: [] };
    Object.keys(settings[id]).forEach((number) => {
      const what = called[Number(number) - 1] || number;
      lines.push(jobWords("setting", { name, what, value: settings[id][number] }));
    });
  });
  return lines;
}

/** Parts whose refit list or proof was begun, and the one that was the cause.
 * @param {Job} job @param {{family: JobFamily, causeId: string}} about */
function listsOf({ ticks, proofs: values }, { family, causeId }) {
  /** @type {import("./job-text.js").RefitList[]} */
  const lists = [];
  /** @type {string[]} */
  const proved = [];
  /** @type {string[]} */
  const unproved = [];
  Object.keys(family.parts).forEach((id) => {
    const { name, refit: count, prove } = family.parts[id];
    const { ticked, complete } = ticks[`${id}-refit`] || { ticked: [], complete: false };
    const { ticked: seen } = ticks[`${id}-prove`] || { ticked: [] };
    const read = values[id] || {};
    const chosen = causeId === id;
    if (ticked.length || (chosen && count)) lists.push({ name, ticked: ticked.length, count, complete });
    if (!seen.length && !Object.keys(read).length && !chosen) return;
    prove.forEach(({ what, must }, i) => {
      const number = String(i + 1);
      const line = jobWords(read[number] ? "proof-read" : "proof", { what, must, value: read[number] });
      (seen.includes(number) ? proved : unproved).push(line);
    });
  });
  return { lists, proved, unproved };
}

const form = formOf("job");
if (form) jobPage(form);
