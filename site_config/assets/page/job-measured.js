// Everything that was measured in a job, each said in a line: a sensor's reading is judged here, where
// its curve is at hand; all else keeps the verdict that its own form gave.

import { answerReading } from "../answers/reading.js";
import { Refusal, statement } from "../answers/statement.js";
import { gridOf } from "../numbers/grid.js";
import { FIXED_POINT } from "../numbers/instruments.js";
import { nameOf, phrase } from "../words/phrase.js";
import { clockTime } from "./clock.js";
import { lineAt, voltsReadWords } from "./earlier-line.js";
import { jobLine } from "./job-text.js";
import { kit, teamShortOhm, toolsOf } from "./team.js";
import { unit } from "./unit.js";

/** @typedef {import("../answers/statement.js").Statement} Statement */
/** @typedef {import("../job/jobs.js").Job} Job */
/** @typedef {import("../job/jobs.js").Measurement} Measurement */
/** @typedef {import("./job-family.js").JobFamily} JobFamily */
/** state is empty where it has no verdict; read: as it was typed, and at which temperature.
 * @typedef {{measured: Measurement, kind: string, name: string, read: string, state: string,
 *   refusal: ?Statement, instruments: string[]}} MeasuredLine */

/** @param {Job} job @param {JobFamily} family @returns {MeasuredLine[]} the oldest first */
export function measuredLines({ measurements }, family) {
  return measurements.map((measured) => {
    const { what, of, typed } = measured;
    const entry = family.sensors[of] || family.parts[of];
    const { meter, thermometer } = toolsOf(typed);
    const atAll = what !== "volts" && typed.at;
    return {
      measured, kind: family.parts[of] ? "parts" : "sensors",
      name: what === "reading" ? nameOfEntry(entry, of)
        : [nameOfEntry(entry, of), whatWords(what)].filter(Boolean).join(", "),
      // A reading that needs no temperature says nothing of one.
      read: what === "volts" || what === "controller" ? plainWords(readWords(measured))
        : lineAt(typed, readWords(measured)),
      instruments: [meter ? meter.name : "", family.testers[typed.tester] || "",
        thermometer && atAll && typed.how !== FIXED_POINT ? thermometer.name : ""].filter(Boolean),
      ...(what === "reading" ? judged(family, measured)
        : { state: measured.state || "", refusal: null }),
    };
  });
}

/** @param {Statement} words @returns {string} */
const plainWords = (words) => phrase(words, { unit: unit.now() });

/** @param {{name: string}|undefined} entry @param {string} id where the notes no longer hold it */
const nameOfEntry = (entry, id) => (entry ? entry.name : id);

/** @param {string} what @returns {string} nothing where the reading itself says it */
function whatWords(what) {
  if (what === "volts" || what === "controller") return "";
  return ["windings", "insulation", "loop"].includes(what) ? nameOf("job-measured", what) : what;
}

/** What is no reading: how and with what it was taken. */
const ABOUT = ["at", "how", "meter", "thermometer", "tester", "place", "surface", "air", "humidity",
  "trend", "at15s", "at30s", "at10min", "sister", "sister_curve", "round"];

/** @param {Measurement} measured @returns {Statement} as it was typed */
function readWords({ what, typed }) {
  if (typed.readings) {
    return statement("earlier-reading.windings", {
      pairs: Object.keys(typed.readings).map((pair) =>
        statement("earlier-reading.winding", { pair, typed: typed.readings[pair] })),
    });
  }
  if (what === "controller") {
    return statement("earlier-reading.controller", { shown_c: Number(typed.shown) });
  }
  if (what === "volts") return voltsReadWords(typed);
  if (typed.reading && Number(typed.volts) > 0) {
    const figures = { typed: typed.reading, test_volts: Number(typed.volts) };
    return statement("earlier-reading.insulation", figures);
  }
  const words = Object.keys(typed).filter((name) => !ABOUT.includes(name)).map((name) => typed[name])
    .filter((word) => typeof word === "string" && word);
  return statement("earlier-reading.shown", { typed: words.join(", ") });
}

/** @param {JobFamily} family @param {Measurement} measured
 * @returns {{state: string, refusal: ?Statement}} */
function judged(family, { of, typed, after }) {
  const { curve: curveId = "", allow_k: allowK = 0 } = family.sensors[of] || {};
  const curve = curveId ? gridOf(curveId) : null;
  if (!curve) return { state: "", refusal: null };
  try {
    const { state } = answerReading({
      sensor: { curve, curveId: curveId || "", allowK },
      reading: typed.reading || "", at: typed.at || "", unit: "C", tools: toolsOf(typed),
      shortOhm: teamShortOhm(), afterRepair: after, kit: kit(),
    });
    return { state, refusal: null };
  } catch (refused) {
    if (!(refused instanceof Refusal)) throw refused;
    return { state: "", refusal: refused.statement };
  }
}

/** @param {string} text @returns {string} for inside a sentence; its nouns stay as they are */
export const small = (text) => text.charAt(0).toLowerCase() + text.slice(1);

/** @param {MeasuredLine} line @returns {string} with when and with what it was taken */
export function measuredWords({ measured, name, read, state, refusal, instruments }) {
  const figures = {
    time: clockTime(measured.time), name, read, refusal,
    verdict: state && small(nameOf("verdict", state)),
  };
  const kind = state ? "judged" : refusal ? "refused" : "plain";
  const words = phrase(statement(`job.measured-${kind}-${measured.after ? "after" : "before"}`, figures),
    { unit: unit.now() });
  return instruments.length ? `${words} ${jobLine("taken-with", { instruments })}` : words;
}
