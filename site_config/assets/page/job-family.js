// What a job page knows of its family: codes, sensors and parts, and what follows from a cause.
// Pure: it touches no page.

import { nameOf } from "../words/phrase.js";
import { jobLine, jobWords } from "./job-text.js";

/**
 * @typedef {{kind: string, id: string}} Cause kind: sensor, part, or what with its words as id
 * @typedef {{shown: string, name: string, suspects: Cause[], after: string[]}} JobCode
 * @typedef {{name: string, curve: ?string, allow_k: number, order: ?string}} JobSensor
 * prove: what is looked at, and what it must show; settings: what each is called
 * @typedef {{name: string, order: ?string, labour_min: ?number, refit: number,
 *   prove: Array<{what: string, must: string}>, settings: string[]}} JobPart
 * @typedef {{name: string, codes: Object<string, JobCode>,
 *   sensors: Object<string, JobSensor>, parts: Object<string, JobPart>,
 *   testers: Object<string, string>}} JobFamily testers: of insulation, each its name
 */
/** @typedef {import("../job/jobs.js").Job} Job */

/** @param {JobFamily} family @param {Cause} cause @returns {string} nothing where none is known */
export function causeName(family, { kind, id }) {
  if (kind === "sensor") return family.sensors[id].name;
  return kind === "part" ? family.parts[id].name : id;
}

/** The code's own suspects first, then everything else of the family.
 * @param {JobFamily} family @param {JobCode|undefined} code
 * @returns {Array<{value: string, words: string}>} */
export function causesToChoose(family, code) {
  const causes = [
    ...(code ? code.suspects : []),
    ...Object.keys(family.sensors).map((id) => ({ kind: "sensor", id })),
    ...Object.keys(family.parts).map((id) => ({ kind: "part", id })),
  ];
  const seen = new Set();
  return [
    { value: "", words: nameOf("job-cause", "unknown") },
    ...causes.map((cause) => ({
      value: `${cause.kind}:${cause.id}`, words: causeName(family, cause),
    })).filter(({ value }) => !seen.has(value) && seen.add(value)),
    { value: "words", words: nameOf("job-cause", "words") },
  ];
}

/** @param {JobFamily} family @param {string} value of the choice of causes @param {string} words typed
 * beside it @returns {Cause} */
export function causeOf(family, value, words) {
  if (value === "words") return { kind: "what", id: words };
  const at = value.indexOf(":");
  const cause = { kind: value.slice(0, at), id: value.slice(at + 1) };
  const there = (cause.kind === "sensor" && family.sensors[cause.id])
    || (cause.kind === "part" && family.parts[cause.id]);
  // The notes may have changed since it was chosen.
  if (there) return cause;
  return at > 0 && !["sensor", "part"].includes(cause.kind) ? cause : { kind: "", id: "" };
}

/** @param {Job} job @param {string} id @param {JobPart} part
 * @returns {boolean} whether it is in, everything is back, and all that proves it was seen */
export function partProved({ ticks }, id, { refit, prove }) {
  const complete = (/** @type {string} */ list) => Boolean(ticks[list] && ticks[list].complete);
  const back = !refit || complete(`${id}-refit`);
  return back && (prove.length ? complete(`${id}-prove`) : refit > 0);
}

/** @param {JobFamily} family @param {Cause} cause @param {boolean} proved it is fitted and proved
 * @returns {string[]} what is needed, and why */
export function needed(family, { kind, id }, proved) {
  if (proved || (kind !== "sensor" && kind !== "part")) return [];
  const { name, order } = kind === "sensor" ? family.sensors[id] : family.parts[id];
  const minutes = kind === "part" ? family.parts[id].labour_min : null;
  return [
    order || jobWords("no-order-text", { name }),
    minutes ? jobLine("labour", { minutes }) : "",
    jobLine("why", { name }),
  ];
}
