// What to do after a verdict: what tells first, then the words of the code or of the sensor. Mirrors
// kb/answers/reading_next.py.

import { INSTRUCTIONS } from "../catalog.js";
import { statement } from "./statement.js";

/** What explains all of a reading without another sensor. */
const SLIPS = [
  "tell.plugged-in", "tell.board-alone", "tell.unit-slip", "tell.factor-ten", "tell.fahrenheit",
];
/** Verdict → the field without which the trade's usual steps come first.
 * @type {Object<string, string>} */
const OWN_STEPS = { open: "when_open", short: "when_short" };

/**
 * @typedef {import("./statement.js").Statement} Statement
 * first: what tells, before anything is replaced; where there is any, the instruction holds only if
 * the reading stays so. instruction: the entry's field that says what to do, proved after a repair,
 * or nothing; whose: code, sensor, or nothing.
 * @typedef {{first: Statement[], instruction: string, whose: string}} NextStep
 */

/**
 * @param {string} state the verdict
 *   twins: labels of the sensors whose plug would read like this one's, each at a place of its own
 * @param {{explanations: import("./reading-explained.js").Explained[], twins?: string[],
 *   ofCode: string[], ofSensor: string[], afterRepair: boolean}} known
 * @returns {NextStep}
 */
export function nextStep(state, { explanations, twins = [], ofCode, ofSensor, afterRepair }) {
  if (state === "within" && afterRepair) return { first: [], instruction: "proved", whose: "" };
  const instruction = INSTRUCTIONS[state].find((name) =>
    ofCode.includes(name) || ofSensor.includes(name)) || "";
  const whose = !instruction ? "" : ofCode.includes(instruction) ? "code" : "sensor";
  const ofFamily = explanations.some(({ tell }) => tell.id === "tell.family-curve");
  /** @type {Statement[]} */
  const first = [];
  /** @param {Statement} tell */
  const addOnce = (tell) => {
    if (!first.some((before) => JSON.stringify(before) === JSON.stringify(tell))) first.push(tell);
  };
  explanations.forEach(({ tell }) => {
    // Where a part of the family would fit, what tells of it tells of any other part too.
    if (!ofFamily || tell.id !== "tell.other-curve") addOnce(tell);
  });
  const slipped = explanations.some(({ tell }) => SLIPS.includes(tell.id));
  if (state === "outside" && twins.length && !slipped) {
    addOnce(statement("tell.same-curve", { labels: twins }));
  }
  if (state in OWN_STEPS && instruction !== OWN_STEPS[state]) {
    first.push(statement(`tell.default-${state}`));
  }
  return { first, instruction, whose };
}
