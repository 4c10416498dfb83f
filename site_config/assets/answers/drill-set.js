// A set of drills out of a seed, alike for a whole team, and one drill on one entry. Mirrors
// kb/answers/drill_set.py.

import { Seeded } from "../numbers/seeded.js";
import { DRILL_KINDS } from "./drill.js";
import {
  codeOfBlinks, onDrawings, onLamps, placeOfSensor, plugOfSensor, thatAreKilled, whatWouldKill, withPlugs,
} from "./drill-choice.js";
import { expectedResistance, onCurve, temperatureOfReading, verdictOfReading } from "./drill-curve.js";
import { displayOfMeter, toRead } from "./drill-meter.js";
import { orderOfChecks, toMakeSafe, toOrder, whatIsSafeFirst } from "./drill-order.js";

/** @typedef {import("./drill.js").Drill} Drill */
/** @typedef {import("./drill.js").DrillNotes} DrillNotes */

/** Drills in a set: some minutes of a break. */
export const SET = 10;

/** What can be asked about, and the drill on one of them.
 * @type {Object<string, [function(DrillNotes): any[], function(any, DrillNotes, Seeded): Drill]>} */
const MADE = {
  ohm: [onCurve, expectedResistance],
  temperature: [onCurve, temperatureOfReading],
  verdict: [(notes) => (notes.meters.length ? onCurve(notes) : []), verdictOfReading],
  blinks: [onLamps, codeOfBlinks],
  place: [onDrawings, placeOfSensor],
  plug: [withPlugs, plugOfSensor],
  order: [toOrder, orderOfChecks],
  safe: [toMakeSafe, whatIsSafeFirst],
  meter: [toRead, displayOfMeter],
  kills: [thatAreKilled, whatWouldKill],
};

/** What drills can be made on, looked for once. */
export class DrillPool {
  /** @param {DrillNotes} notes */
  constructor(notes) {
    this.notes = notes;
    /** @type {Object<string, any[]>} */
    this._subjects = {};
    DRILL_KINDS.forEach((kind) => { this._subjects[kind] = MADE[kind][0](notes); });
  }

  /** @param {string} kind @param {string} [family] "" for all @returns {any[]} */
  about(kind, family = "") {
    return this._subjects[kind].filter((subject) => !family || familiesOf(subject, family).includes(family));
  }

  /** @param {string} [family] @returns {string[]} the kinds that there is something for */
  kinds(family = "") { return DRILL_KINDS.filter((kind) => this.about(kind, family).length); }

  /** @param {any} subject what `about` found @param {string} kind @param {Seeded} draw */
  drill(subject, kind, draw) { return MADE[kind][1](subject, this.notes, draw); }

  /** No entry comes twice before every other has come.
   * @param {{seed: number, kind?: string, family?: string, count?: number}} asked @returns {Drill[]} */
  drills({ seed, kind = "", family = "", count = SET }) {
    const kinds = new Seeded(seed).shuffled(kind ? [kind] : this.kinds(family));
    /** @type {Object<string, any[]>} */
    const left = {};
    /** @type {Drill[]} */
    const drills = [];
    for (let place = 0; place < (kinds.length ? count : 0); place += 1) {
      const draw = new Seeded(seed, place + 1);
      const now = kinds[place % kinds.length];
      if (!left[now] || !left[now].length) left[now] = draw.shuffled(this.about(now, family));
      if (left[now].length) drills.push(this.drill(left[now].shift(), now, draw));
    }
    return drills;
  }
}

/** @param {any} subject @param {string} family @returns {string[]} of a meter the one asked for */
function familiesOf(subject, family) {
  if ("isolateAt" in subject) return [subject.id];
  return subject.families || ["family" in subject ? subject.family : family];
}
