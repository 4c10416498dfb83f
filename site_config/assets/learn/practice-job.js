// A practice job as it goes: what was done, what it cost, what was seen. No element of the page here.

import {
  readPracticeBoard, readPracticeEarth, readPracticeSensor, readPracticeWindings, isSeen,
} from "../answers/practice-check.js";
import { drawJob, luck } from "../answers/practice-draw.js";
import { METERS, betweenTipsOhm, boardShowsC, shownOhm } from "../answers/practice-reading.js";
import { STEP_MINUTES, nextSafeStep, proveDead, readingMinutes } from "../answers/practice-safety.js";
import { ICE, SISTER } from "../answers/typed.js";

/**
 * @typedef {import("../answers/practice-check.js").Bench} Bench
 * @typedef {import("../answers/practice-draw.js").Hidden} Hidden
 * @typedef {import("../answers/practice-draw.js").PracticeMachine} PracticeMachine
 * @typedef {import("../answers/practice-draw.js").PracticeSuspect} PracticeSuspect
 * What was seen; suspect: which one it was a check of, −1 for none; read: what a verdict is asked with.
 * @typedef {{kind: string, suspect: number, sensor: string, part: string, found: *}} Seen
 * A line of the time line: when, what was done, what it cost, what was seen.
 * @typedef {{at: number, act: string, minutes: number, suspect: number, seen: ?Seen, words: string}} Line
 * over: nothing while it goes on, else unsafe, found or shown.
 * @typedef {{hidden: Hidden, machine: PracticeMachine, bench: Bench,
 *   tools: {meter: string, thermometer: string, tester: string, dead: boolean},
 *   minutes: number, done: string[], isolatedAt: number, lines: Line[], unplugged: string[],
 *   named: number, kind: string, wrong: number, over: string, missed: string}} Job
 */

/** Fetched from the van. Common practice, no source. */
export const FETCH_MIN = 5;
/** The controller is asked. Common practice, no source. */
export const ASK_MIN = 3;
/** Wiring put right, or a sensor changed, where the notes give no minutes. Common practice. */
export const MEND_MIN = 10;
/** The resistor of the van, and its tolerance. */
const STAND_IN = { share: 0.01 };

/** @param {number} seed @param {{machines: PracticeMachine[], bench: Bench, tools: Job["tools"]}} notes
 * @returns {Job} */
export function newJob(seed, { machines, bench, tools }) {
  const hidden = drawJob(seed, { machines, curves: bench.curves });
  return {
    hidden, bench, tools, machine: machines[hidden.machine], minutes: 0, done: [], isolatedAt: 0,
    lines: [], unplugged: [], named: -1, kind: "", wrong: 0, over: "", missed: "",
  };
}

/** @param {Job} job */
export const codeOf = ({ machine, hidden }) => machine.codes[hidden.code];

/** @param {Job} job
 * @param {{act: string, minutes: number, suspect?: number, seen?: ?Seen, words: string}} done */
export function spend(job, { act, minutes, suspect = -1, seen = null, words }) {
  job.minutes += minutes;
  job.lines.push({ at: job.minutes, act, minutes, suspect, seen, words });
}

/** Hands go in: where it is not safe, the job ends here.
 * @param {Job} job @returns {boolean} whether it is safe */
export function isSafe(job) {
  const missing = nextSafeStep(job.done);
  if (!missing) return true;
  job.over = "unsafe";
  job.missed = missing;
  return false;
}

/** @param {Job} job @param {string} step isolate, lock or power @param {string} words */
export function takeStep(job, step, words) {
  if (step === "power") job.done = [];
  else if (job.done.indexOf(step) < 0) job.done.push(step);
  if (step === "isolate") job.isolatedAt = job.minutes + STEP_MINUTES.isolate;
  spend(job, { act: step, minutes: STEP_MINUTES[step], words });
}

/** @param {Job} job @returns {{state: string, volts: number}} as the voltage tester says */
export function takeProof(job) {
  // The charge counts from when the tester goes on: a wait cut short shows.
  const proof = proveDead(job.machine, { done: job.done, minutes: job.minutes - job.isolatedAt });
  if (proof.state === "dead") job.done.push("prove");
  return proof;
}

/** @param {Job} job @param {string} sensor @returns {number[]} suspects that it is, or nothing */
const suspectsOf = (job, sensor) => codeOf(job).suspects.map((row, i) => (row.sensor === sensor ? i : -1))
  .filter((i) => i >= 0);

/** @param {Job} job @param {string} sensor @param {string} placement
 * @returns {number} minutes of reading it so */
export function minutesToRead(job, sensor, placement) {
  const [own] = suspectsOf(job, sensor);
  const { suspects } = codeOf(job);
  const first = suspects.filter((row) => row.sensor)[0];
  const ownMin = own === undefined ? (first ? first.minutes : MEND_MIN) : suspects[own].minutes;
  return readingMinutes(ownMin, { placement, again: job.unplugged.indexOf(sensor) >= 0 });
}

/** @param {Job} job @param {string} sensor @returns {string} one on its curve, or nothing */
export function sisterOf({ machine }, sensor) {
  const { curveId } = machine.sensors[sensor].facts;
  return Object.keys(machine.sensors).filter((id) =>
    id !== sensor && machine.sensors[id].facts.curveId === curveId)[0] || "";
}

/** @param {Job} job @param {{sensor: string, placement: string, plugged: boolean}} how
 * @returns {Seen} */
export function readOf(job, { sensor, placement, plugged }) {
  const { hidden, machine, bench, tools } = job;
  const [suspect = -1] = suspectsOf(job, sensor);
  if (placement === SISTER) {
    return { kind: "sister", suspect, sensor, part: "", found: besideSister(job, sensor) };
  }
  const found = readPracticeSensor(hidden, { machine, bench },
    { sensor, placement, plugged, meter: tools.meter, thermometer: tools.thermometer });
  if (!plugged && job.unplugged.indexOf(sensor) < 0) job.unplugged.push(sensor);
  return { kind: plugged ? "plugged" : "read", suspect, sensor, part: "",
    found: { ...found, meter: tools.meter, thermometer: tools.thermometer } };
}

/** @param {Job} job @param {string} sensor both in one cup of stirred ice water */
function besideSister(job, sensor) {
  const { hidden, machine, bench, tools } = job;
  const sister = sisterOf(job, sensor);
  const stray = luck(hidden.seed, METERS + Object.keys(bench.meters).indexOf(tools.meter));
  const [own, other] = [sensor, sister].map((id) => shownOhm(bench.meters[tools.meter].meter,
    betweenTipsOhm(hidden, { machine, curves: bench.curves }, { sensor: id, placement: ICE }),
    { stray }));
  [sensor, sister].forEach((id) => { if (job.unplugged.indexOf(id) < 0) job.unplugged.push(id); });
  return { ohm: own, other, sister, meter: tools.meter };
}

/** @param {Job} job @param {string} sensor @returns {number} what the controller believes, in °C */
export function believedC(job, sensor) {
  const { hidden, machine, bench } = job;
  const hangs = hidden.kind === "unplugged" && sensor === hidden.sensor;
  const rOhm = hangs ? Infinity
    : betweenTipsOhm(hidden, { machine, curves: bench.curves }, { sensor });
  return boardShowsC(hidden, machine, { sensor, rOhm });
}

/** @param {Job} job @param {string} sensor @returns {number} Ω of the plain resistor for its input */
export function standInOhm({ machine }, sensor) {
  const { curve } = machine.sensors[sensor].facts;
  const middleOhm = curve.ohm(Math.min(Math.max(25, curve.lowC), curve.highC));
  const decade = Math.pow(10, Math.floor(Math.log10(middleOhm)));
  return [1, 2.2, 4.7, 10].map((times) => times * decade)
    .sort((a, b) => Math.abs(Math.log(a / middleOhm)) - Math.abs(Math.log(b / middleOhm)))[0];
}

/** @param {Job} job @param {number} suspect @returns {Seen} */
export function lookAt(job, suspect) {
  const { hidden } = job;
  const seen = suspect === hidden.suspect && isSeen(hidden);
  return { kind: "look", suspect, sensor: "", part: "", found: { seen } };
}

/** The controller is read with the power on: what comes next is made safe anew.
 * @param {Job} job @param {number} suspect @returns {Seen} */
export function resistorAt(job, suspect) {
  job.done = [];
  const { sensor } = codeOf(job);
  const rOhm = standInOhm(job, sensor);
  const found = readPracticeBoard(job.hidden, job.machine, { sensor, rOhm, share: STAND_IN.share });
  return { kind: "board", suspect, sensor, part: "", found: { ...found, rOhm } };
}

/** @param {Job} job @param {number} suspect @returns {Seen} */
export function windingsOf(job, suspect) {
  const { hidden, machine, bench, tools } = job;
  const { part } = codeOf(job).suspects[suspect];
  return { kind: "windings", suspect, sensor: "", part, found: readPracticeWindings(hidden,
    { machine, bench }, { part, meter: tools.meter, thermometer: tools.thermometer }) };
}

/** @param {Job} job @param {number} suspect @returns {Seen} */
export function earthOf(job, suspect) {
  const { hidden, machine, bench, tools } = job;
  const { part } = codeOf(job).suspects[suspect];
  return { kind: "earth", suspect, sensor: "", part, found: readPracticeEarth(hidden,
    { machine, bench }, { part, tester: tools.tester, thermometer: tools.thermometer }) };
}

/** @param {Job} job @param {number} suspect @returns {string[]} what may be wrong with it, to choose from */
export function kindsToName(job, suspect) {
  const row = codeOf(job).suspects[suspect];
  if (row.check === "sensor") return ["drifted", "open", "short", "wrong-part"];
  return row.check === "motor" ? ["winding", "damp"] : [];
}

/** @param {Job} job @returns {boolean} whether the suspect that was named is the one */
export const isRight = ({ named, hidden }) => named === hidden.suspect;
