// Drills with one right choice: a lamp's code, a place, a plug, what would kill a new part. Mirrors
// kb/answers/drill_choice.py.

import { bareWords, choicesOf, differentWords, drillOf, unstopped } from "./drill.js";
import { statement } from "./statement.js";

/**
 * @typedef {import("./drill.js").Drill} Drill
 * @typedef {import("./drill.js").DrillNotes} DrillNotes
 * @typedef {import("./drill.js").DrillCode} DrillCode
 * @typedef {import("./drill.js").DrillPart} DrillPart
 * @typedef {import("./drill.js").DrillSensor} DrillSensor
 * @typedef {import("./drill.js").Seeded} Seeded
 */

/** @param {DrillNotes} notes @returns {DrillCode[]} those that a lamp shows, others being a choice */
export const onLamps = (notes) =>
  notes.codes.filter((code) => code.lamps.length && otherCodes(code, notes).length);

/** @param {DrillCode} code @param {DrillNotes} notes @param {Seeded} draw
 * @returns {Drill} which code is this lamp? */
export function codeOfBlinks(code, notes, draw) {
  const { lamp, long, short, bars } = draw.chosen(code.lamps);
  return drillOf({
    kind: "blinks", form: "choice", family: code.family, about: `codes/${code.id}`,
    ask: statement("drill.ask-blinks", { lamp }),
    ...choicesOf(code.name, otherCodes(code, notes), draw),
    bars, figures: { long, short },
    because: [statement("drill.because-blinks", { long, short, code: code.name })],
  });
}

/** @param {DrillNotes} notes @returns {DrillSensor[]} those whose place can be tapped */
export const onDrawings = (notes) => notes.sensors.filter((sensor) =>
  taps(sensor.drawing, sensor.pin, notes) && places(sensor, notes).length);

/** @param {DrillSensor} sensor @param {DrillNotes} notes @param {Seeded} draw
 * @returns {Drill} where is it? */
export function placeOfSensor(sensor, notes, draw) {
  const where = notes.pins[sensor.drawing][sensor.pin];
  return drillOf({
    kind: "place", form: "tap", family: sensor.family, about: `sensors/${sensor.id}`,
    ask: statement("drill.ask-place", { sensor: sensor.name }),
    ...choicesOf(where, places(sensor, notes), draw),
    drawing: sensor.drawing, pin: sensor.pin,
    because: [statement("drill.because-place", { sensor: sensor.name, where: unstopped(where) })],
  });
}

/** @param {DrillNotes} notes @returns {DrillSensor[]} whose plug is not given away by their name */
export const withPlugs = (notes) => notes.sensors.filter((sensor) => sensor.plug &&
  !bareWords(sensor.name).includes(bareWords(sensor.plug)) &&
  differentWords(sensor.plug, otherPlugs(sensor, notes)));

/** @param {DrillSensor} sensor @param {DrillNotes} notes @param {Seeded} draw
 * @returns {Drill} which plug is its own? Tapped where a drawing shows it, else by its mark */
export function plugOfSensor(sensor, notes, draw) {
  const tapped = taps(sensor.plugDrawing, sensor.plug, notes);
  return drillOf({
    kind: "plug", form: tapped ? "tap" : "choice", family: sensor.family,
    about: `sensors/${sensor.id}`,
    ask: statement("drill.ask-plug", { sensor: sensor.name }),
    ...choicesOf(sensor.plug, otherPlugs(sensor, notes), draw),
    drawing: tapped ? sensor.plugDrawing : "", pin: tapped ? sensor.plug : "",
    because: [statement("drill.because-plug", { sensor: sensor.name, plug: sensor.plug })],
  });
}

/** @param {DrillNotes} notes
 * @returns {DrillPart[]} of which the notes say what would kill a new one, and what comes after */
export const thatAreKilled = (notes) =>
  notes.parts.filter((part) => part.kills.length && afterwards(part, notes).length);

/** @param {DrillPart} part @param {DrillNotes} notes @param {Seeded} draw
 * @returns {Drill} what is ruled out before a new one goes in? */
export function whatWouldKill(part, notes, draw) {
  const kills = draw.chosen(part.kills);
  return drillOf({
    kind: "kills", form: "choice", family: part.families[0], about: `parts/${part.id}`,
    ask: statement("drill.ask-kills", { part: part.name }),
    ...choicesOf(kills, afterwards(part, notes), draw),
    because: [statement("drill.because-kills", { part: part.name, kills: unstopped(kills) })],
  });
}

/** @param {DrillCode} code @param {DrillNotes} notes
 * @returns {string[]} the family's other codes that no lamp shows by one of its patterns */
function otherCodes(code, notes) {
  /** @param {import("./drill.js").Lamp} lamp */
  const pattern = ({ long, short }) => `${long} ${short}`;
  const own = code.lamps.map(pattern);
  return notes.codes.filter((other) => other.family === code.family && other.id !== code.id &&
    !other.lamps.some((lamp) => own.includes(pattern(lamp))) &&
    bareWords(other.name) !== bareWords(code.name)).map(({ name }) => name);
}

/** @param {string} drawing @param {string} pin @param {DrillNotes} notes @returns {boolean} */
const taps = (drawing, pin, notes) => pin in (notes.pins[drawing] || {});

/** @param {DrillSensor} sensor @param {DrillNotes} notes
 * @returns {string[]} where other pins are; none where the words name the sensor itself */
function places(sensor, notes) {
  const pins = notes.pins[sensor.drawing];
  const where = bareWords(pins[sensor.pin]);
  if (where.includes(bareWords(sensor.label))) return [];
  return Object.keys(pins).map((pin) => pins[pin]).filter((words) => bareWords(words) !== where);
}

/** @param {DrillSensor} sensor @param {DrillNotes} notes @returns {string[]} */
const otherPlugs = (sensor, notes) => notes.sensors.filter((other) =>
  other.family === sensor.family && other.plug &&
  bareWords(other.plug) !== bareWords(sensor.plug)).map(({ plug }) => plug);

/** @param {DrillPart} part @param {DrillNotes} notes
 * @returns {string[]} what is only looked at afterwards, its own first; never what would kill it */
function afterwards(part, notes) {
  const kills = part.kills.map(bareWords);
  const lines = part.afterwards.slice();
  notes.parts.filter(({ families }) => families.some((id) => part.families.includes(id)))
    .forEach((other) => { lines.push(...other.afterwards); });
  return Array.from(new Set(lines)).filter((words) => !kills.includes(bareWords(words)));
}
