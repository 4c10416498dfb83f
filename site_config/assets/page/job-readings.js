// The readings of one job: each judged by the floor of answers, and said in a line.

import { answerReading } from "../answers/reading.js";
import { Refusal, statement } from "../answers/statement.js";
import { gridOf } from "../numbers/grid.js";
import { nameOf, phrase } from "../words/phrase.js";
import { jobLine } from "./job-text.js";
import { teamShortOhm, toolsOf } from "./team.js";
import { unit } from "./unit.js";

/** @typedef {import("../answers/statement.js").Statement} Statement */
/** @typedef {import("./job-family.js").JobSensor} JobSensor */
/** @typedef {import("./kept.js").Typed} Typed */
/** One reading of a sensor before or after the repair; state is empty where it has no verdict.
 * @typedef {{id: string, sensor: JobSensor, typed: Typed, after: boolean, state: string,
 *   refusal: ?Statement}} JobReading */

/** @param {Object<string, JobSensor>} sensors of the family
 * @param {Object<string, Typed>} kept by sensor, after the repair by `sensor@after`
 * @returns {JobReading[]} every reading that this phone keeps of them */
export function readingsOf(sensors, kept) {
  /** @type {JobReading[]} */
  const readings = [];
  Object.keys(kept).sort().forEach((key) => {
    const [id] = key.split("@");
    const typed = kept[key];
    if (!sensors[id] || !typed.reading) return;
    const after = key.endsWith("@after");
    readings.push({ id, sensor: sensors[id], typed, after, ...judged(sensors[id], typed, after) });
  });
  return readings;
}

/** @param {JobSensor} sensor @param {Typed} typed @param {boolean} after the repair
 * @returns {{state: string, refusal: ?Statement}} */
function judged({ curve: curveId, allow_k: allowK }, typed, after) {
  const curve = curveId ? gridOf(curveId) : null;
  if (typed.at === undefined || !curve) return { state: "", refusal: null };
  try {
    const { state } = answerReading({
      sensor: { curve, curveId: curveId || "", allowK },
      reading: typed.reading || "",
      at: typed.at,
      tools: toolsOf(typed),
      shortOhm: teamShortOhm(),
      afterRepair: after,
    });
    return { state, refusal: null };
  } catch (refused) {
    if (!(refused instanceof Refusal)) throw refused;
    return { state: "", refusal: refused.statement };
  }
}

/** @param {JobReading} reading
 * @returns {string} with what it was taken, where anything is named */
export function readingLine({ sensor, typed, after, state, refusal }) {
  const { meter, thermometer, placement } = toolsOf(typed);
  const instruments = [meter, thermometer].map((tool) => (tool ? tool.name : "")).filter(Boolean);
  const about = {
    name: sensor.name,
    reading: typed.reading,
    t_c: Number(typed.at),
    how: nameOf("placement", placement, "short"),
    verdict: state && nameOf("verdict", state).toLowerCase(),
    refusal,
  };
  const kind = typed.at === undefined ? "untimed" : state ? "reading" : refusal ? "refused" : "unjudged";
  const voice = { unit: unit.now() };
  const line = phrase(statement(`job.${kind}-${after ? "after" : "before"}`, about), voice);
  return instruments.length ? `${line} ${jobLine("taken-with", { instruments })}` : line;
}
