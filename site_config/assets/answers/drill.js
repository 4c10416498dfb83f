// A drill: a question made from the notes, with its answer and the working. Mirrors
// kb/answers/drill.py and kb/answers/drill_notes.py.

import { statement } from "./statement.js";

/**
 * @typedef {import("./statement.js").Statement} Statement
 * @typedef {import("../numbers/grid.js").Grid} Grid
 * @typedef {import("../numbers/seeded.js").Seeded} Seeded
 * noCharge: why nothing is stored; nothing where something is.
 * @typedef {{id: string, name: string, isolateAt: string, drainMin: number, drainedBelowV: number,
 *   drainAt: string, noCharge: string}} DrillFamily
 * @typedef {{id: string, family: string, name: string, label: string, curveId: string,
 *   meetsC: ?number[], allowK: number, drawing: string, pin: string, plug: string,
 *   plugDrawing: string}} DrillSensor
 * bars: seconds lit and seconds dark after it, blink for blink.
 * @typedef {{lamp: string, long: number, short: number, bars: number[][]}} Lamp
 * @typedef {{id: string, family: string, name: string, lamps: Lamp[],
 *   suspects: Array<{name: string, share: number, minutes: number}>}} DrillCode
 * @typedef {{id: string, families: string[], name: string, kills: string[],
 *   afterwards: string[]}} DrillPart
 * pins: drawing, then pin, then where that is; overShows: by meter.
 * @typedef {{families: DrillFamily[], sensors: DrillSensor[], codes: DrillCode[],
 *   parts: DrillPart[], pins: Object<string, Object<string, string>>,
 *   overShows: Object<string, string>, shortOhm: ?number}} DrillFacts
 * @typedef {DrillFacts & {meters: import("./tools.js").NamedMeter[],
 *   thermometers: import("./tools.js").NamedThermometer[],
 *   curves: Object<string, Grid>}} DrillNotes
 * about: the entry, as `sensors/r4`; right: the place of the right choice, or every place in order;
 * shown: a display and the unit beside it.
 * @typedef {{kind: string, form: string, family: string, about: string, ask: Statement,
 *   given: Statement[], choices: Statement[], right: number[], curveId: string,
 *   digits: number, drawing: string,
 *   pin: string, bars: number[][], shown: string[], figures: Object<string, number>,
 *   because: Statement[]}} Drill
 */

/** What is asked, in the order in which pages list it. */
export const DRILL_KINDS = [
  "ohm", "temperature", "verdict", "blinks", "place", "plug", "order", "safe", "meter", "kills",
];
const MOST_CHOICES = 4;

/** @param {string} words @returns {string} letters and figures alone, small */
export const bareWords = (words) => words.toLowerCase().replace(/[^\p{L}\p{N}]/gu, "");

/** @param {string} words @returns {string} without the stop that a sentence round them has itself */
export const unstopped = (words) => words.replace(/[. ]+$/, "");

/** @param {Partial<Drill> & {kind: string, form: string, family: string, about: string,
 *   ask: Statement}} given @returns {Drill} */
export const drillOf = (given) => ({
  given: [], choices: [], right: [], curveId: "", digits: 4, drawing: "", pin: "", bars: [], shown: [],
  figures: {}, because: [], ...given,
});

/** Others that read like the right one, or like each other, are no choices.
 * @param {string} right @param {string[]} others @param {Seeded} draw
 * @returns {{choices: Statement[], right: number[]}} in a drawn order */
export function choicesOf(right, others, draw) {
  /** @type {Map<string, string>} */
  const different = new Map();
  others.forEach((other) => {
    const form = bareWords(other);
    if (!different.has(form)) different.set(form, other);
  });
  different.delete(bareWords(right));
  const drawn = draw.shuffled(Array.from(different.values())).slice(0, MOST_CHOICES - 1);
  const order = draw.shuffled([right, ...drawn]);
  return {
    choices: order.map((words) => statement("drill.words", { words })),
    right: [order.indexOf(right)],
  };
}

/** @param {string} right @param {string[]} others @returns {number} how many are a choice beside it */
export const differentWords = (right, others) =>
  new Set([...others.map(bareWords), bareWords(right)]).size - 1;
