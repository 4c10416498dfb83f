// A job as a case for the notes: what is missing yet, its file's name, the case itself. Pure: it
// touches no page.

import { statement } from "../answers/statement.js";
import { WORDS } from "../catalog.js";
import { capital, nameOf, phrase } from "../words/phrase.js";
import { caseYaml } from "./case-yaml.js";
import { causeName, causeOf } from "./job-family.js";
import { measuredWords } from "./job-measured.js";
import { jobWords } from "./job-text.js";

/** @typedef {import("../job/jobs.js").Job} Job */
/** @typedef {import("../job/jobs.js").Photo} Photo */
/** @typedef {import("./job-family.js").JobFamily} JobFamily */
/** @typedef {import("./job-measured.js").MeasuredLine} MeasuredLine */

/** @param {Job} job @param {JobFamily} family */
const causeIn = ({ words }, family) => causeOf(family, words.cause || "", words["cause-words"] || "");

/** @param {Job} job @param {JobFamily} family @returns {string} the code's id; none where the notes
 * have it not */
export function codeIn({ codes }, family) {
  const newest = codes[codes.length - 1];
  return newest && newest.code in family.codes ? newest.code : "";
}

/** @param {Job} job @param {JobFamily} family
 * @returns {string[]} what a case must say before it may go to the notes, and does not yet */
export function missingIn(job, family) {
  const { kind, id } = causeIn(job, family);
  const words = (/** @type {string} */ name) => (job.words[name] || "").trim();
  /** @type {Object<string, boolean>} */
  const there = {
    found: words("found") !== "",
    cause: kind !== "" && id !== "",
    cure: words("cure") !== "",
    minutes: /^[1-9]\d*$/.test(words("minutes")),
    by: words("by") !== "",
  };
  return Object.keys(there).filter((name) => !there[name]).map((name) => nameOf("job-missing", name));
}

/** @param {Job} job @param {{family: JobFamily, familyId: string, on: string}} about
 * @returns {string} a name that is an id, summary apart from another job of that day */
export function caseId(job, { family, familyId, on }) {
  const opened = new Date(job.opened);
  const two = (/** @type {number} */ number) => String(number).padStart(2, "0");
  const time = two(opened.getHours()) + two(opened.getMinutes());
  return `${codeIn(job, family) || familyId}-${on}-${time}`.toLowerCase()
    .replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "");
}

/** @param {Job} job @returns {Photo[]} those that go with the case */
export const chosenPhotos = ({ photos }) => photos.filter(({ chosen }) => chosen);

/** @param {string} id @param {number} number from 1 @returns {string} */
export const photoFile = (id, number) => `${id}-${number}.jpg`;

/** @param {string} name @returns {string} what stands in a case for what is not said yet */
const unsaid = (name) => capital(phrase(statement(`case.${name}`)));

/** @param {{job: Job, family: JobFamily, familyId: string, measured: MeasuredLine[], on: string,
 *   id: string}} summary id: of the case, which its photos are named after
 * @returns {string} YAML */
export function caseText({ job, family, familyId, measured, on, id: caseName }) {
  const { kind, id } = causeIn(job, family);
  const code = codeIn(job, family);
  const words = (/** @type {string} */ name) => (job.words[name] || "").trim();
  const name = causeName(family, { kind, id }) || WORDS.case["cause-unknown"];
  const shown = code ? family.codes[code].shown.split(",")[0] : "";
  return caseYaml({
    name: shown ? jobWords("case-name", { shown, cause: name }) : name,
    on,
    by: words("by") || WORDS.case.by,
    family: familyId,
    code: code || undefined,
    found: words("found") || unsaid("found"),
    readings: measured.filter(({ measured: { what, of, typed }, state }) =>
      what === "reading" && of in family.sensors && (state || !typed.at))
      .map(({ measured: { of: sensor, typed, after } }) => ({
        sensor, reading: typed.reading || "", at: typed.at || undefined,
        how: (!typed.sister && typed.how) || undefined,
        meter: typed.meter || undefined, thermometer: typed.thermometer || undefined, after,
      })),
    measured: measured.filter(({ measured: { what } }) => what !== "reading").map(measuredWords),
    cause: kind === "sensor" || kind === "part" ? { [kind]: id } : { what: id || WORDS.case.unknown },
    cure: words("cure") || unsaid("cure"),
    minutes: /^\d+$/.test(words("minutes")) ? words("minutes") : "60",
    learnt: words("learnt").split("\n").map((line) => line.trim()).filter(Boolean),
    photos: chosenPhotos(job).map((photo, i) => ({
      file: photoFile(caseName, i + 1), of: photo.words || nameOf("job-photo", "unnamed"),
    })),
  });
}
