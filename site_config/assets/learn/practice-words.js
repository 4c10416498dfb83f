// What a practice job says: what was seen, and what a reading should have told.

import { answerReading } from "../answers/reading.js";
import { SISTER } from "../answers/typed.js";
import { formatOhm, formatOhmTo, formatT, formatVolts } from "../numbers/rounding.js";
import { capital, inWords, listed, nameOf, sentence } from "../words/phrase.js";
import { codeOf } from "./practice-job.js";

/** @typedef {import("./practice-job.js").Job} Job */
/** @typedef {import("./practice-job.js").Seen} Seen */
/** @typedef {import("../answers/practice-reading.js").Shown} Shown */

/** @param {Job} job @returns {*} the notes' words for the machine */
export const machineWords = ({ machine }) => OhmPractice.words[machine.id];

/** @param {Job} job @param {string} sensor @returns {string} */
export const labelOf = (job, sensor) => machineWords(job).sensors[sensor].label;

/** @param {Job} job @param {number} suspect @returns {*} its words */
export function suspectWords(job, suspect) {
  const own = machineWords(job).codes[codeOf(job).id].suspects[suspect];
  return { ...own, name: capital(own.name) };
}

/** @param {Shown} shown @returns {string} as the display has it */
const displayed = ({ value, digit }) => (value === Infinity ? "OL" : formatOhmTo(value, digit));

/** @param {?Shown} beside */
const besideWords = (beside) => (beside ? formatT(beside.value) : "");

/** @param {Job} job @param {Seen} seen @returns {string} what the instruments showed, no more */
export function seenWords(job, seen) {
  const { found, sensor, part } = seen;
  switch (seen.kind) {
    case "read":
      return found.beside
        ? inWords(`practice.seen-${found.placement === "air" ? "air" : "beside"}`, {
          sensor: labelOf(job, sensor), ohms: displayed(found.ohm), at: besideWords(found.beside) })
        : inWords("practice.seen-ice", { sensor: labelOf(job, sensor), ohms: displayed(found.ohm) });
    case "plugged":
      return inWords("practice.seen-plugged", { sensor: labelOf(job, sensor),
        ohms: displayed(found.ohm), at: besideWords(found.beside) });
    case "sister":
      return inWords("practice.seen-sister", { sensor: labelOf(job, sensor),
        ohms: displayed(found.ohm), sister: labelOf(job, found.sister), other: displayed(found.other) });
    case "board":
      return inWords("practice.seen-board",
        { resistor: formatOhm(found.rOhm, 2), shown: halfDegrees(found.showsC) });
    case "windings":
      return inWords("practice.seen-windings", {
        pairs: listed(Object.keys(found.shown).map((pair) =>
          `${pair} ${displayed(found.shown[pair])}`)),
        at: formatT(found.at.value) });
    case "earth":
      return inWords(found.trend ? `practice.seen-earth-${found.trend}` : "practice.seen-earth",
        { ohms: found.ohm.value === Infinity ? "OL" : formatOhm(found.ohm.value, 3),
          at: formatT(found.at.value), part: machineWords(job).parts[part].name });
    case "look":
      return found.seen ? inWords(`practice.eye-${job.hidden.kind}`, names(job))
        : inWords("practice.eye-nothing", { what: suspectWords(job, seen.suspect).name });
    default:
      return inWords("practice.seen-sound", { what: suspectWords(job, seen.suspect).name });
  }
}

/** @param {Job} job */
function names(job) {
  const { sensor, partner } = job.hidden;
  return { sensor: sensor ? labelOf(job, sensor) : "", partner: partner ? labelOf(job, partner) : "" };
}

/** @param {number} tC @returns {string} to a half, as a controller shows it */
export const halfDegrees = (tC) => formatT(tC);

/** @param {number} volts */
export const chargeWords = (volts) => formatVolts(volts, 0);

/** @param {Job} job @returns {string} what was hidden, in a sentence */
export function truthWords(job) {
  const { kind, part, curve, suspect } = job.hidden;
  const figures = { ...names(job), what: suspectWords(job, suspect).name,
    part: part ? machineWords(job).parts[part].name : "", curve };
  if (kind === "winding") {
    return inWords(job.hidden.by === 1 ? "practice.true-broken" : "practice.true-turns", figures);
  }
  return inWords(`practice.true-${kind}`, figures);
}

/** The same verdict as the sensor's own page gives.
 * @param {Job} job @param {Seen} seen @returns {?{state: string, words: string}} what it tells */
export function verdictWords(job, seen) {
  const { found } = seen;
  if (seen.kind === "read" || seen.kind === "plugged" || seen.kind === "sister") {
    return readingWords(job, seen);
  }
  if (seen.kind === "windings" || seen.kind === "earth") {
    const { answer } = found;
    return { state: answer.state, words: sentence(answer.headline) };
  }
  if (seen.kind === "board") {
    return { state: found.state, words: inWords(`practice.board-${found.state}`,
      { should: halfDegrees(found.shouldC), shown: halfDegrees(found.showsC) }) };
  }
  return null;
}

/** @param {Job} job @param {Seen} seen */
function readingWords(job, { kind, sensor, found }) {
  const { machine, bench, tools } = job;
  const facts = { familyCurves: {}, otherCurves: {}, labels: {}, ...machine.sensors[sensor].facts };
  const used = { meter: bench.meters[found.meter], thermometer: bench.thermometers[tools.thermometer] };
  const beside = kind === "sister" ? { placement: SISTER, sister: found.other.typed }
    : { placement: found.placement };
  const answer = answerReading({
    sensor: facts, reading: found.ohm.typed, shortOhm: bench.shortOhm,
    at: kind === "sister" || !found.beside ? "" : found.beside.typed, tools: { ...used, ...beside },
  });
  const words = sentence(answer.headline, { unit: "C", digits: answer.digits });
  return { state: answer.state,
    words: kind === "plugged" ? `${words} ${inWords("practice.was-plugged")}` : words };
}

/** @param {string} state @returns {string} the name of a verdict */
export const stateWord = (state) => nameOf("verdict", state);
