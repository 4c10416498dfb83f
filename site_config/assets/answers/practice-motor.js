// What instruments show on a practice machine's motors. Mirrors kb/answers/practice_motor.py.

import { LIMITS } from "../catalog.js";
import { broughtToC } from "../numbers/insulation.js";
import { significant } from "../numbers/rounding.js";
import { isTriangle, sharedLead } from "../numbers/winding-triangle.js";
import { correctedTo } from "../numbers/winding.js";
import { luck } from "./practice-draw.js";

/** @typedef {import("./practice-draw.js").Hidden} Hidden */
/** @typedef {import("./practice-draw.js").PracticeMachine} PracticeMachine */
/** @typedef {import("./winding-reading.js").WindingFacts} WindingFacts */

const MOTORS = 6000;
const EARTHS = 7000;
export const TESTERS = 8000;
const LEVEL = 0.3;
const EVEN = 0.15;
const SOUND_TIMES = 40;
const SHOWN_DIGITS = 3;

/** @param {PracticeMachine} machine @param {string} part */
const partNumber = (machine, part) => Object.keys(machine.parts).indexOf(part);

/** A star's pair is two windings in a row, a delta's its own beside the two others; any other pair is
 * a winding by itself.
 * @param {Hidden} hidden @param {PracticeMachine} machine
 * @param {{part: string, windings: WindingFacts}} of
 * @returns {Object<string, number>} Ω between each pair of leads, taken off, at today's temperature */
export function pairsOhm(hidden, machine, { part, windings }) {
  const first = MOTORS + 10 * partNumber(machine, part);
  const { toleranceShare, balanceShare, atC, constant } = windings;
  const level = 1 + LEVEL * (toleranceShare || 0) * luck(hidden.seed, first);
  const ownOhm = Object.keys(windings.pairs).map((pair, i) => {
    const even = 1 + EVEN * (balanceShare || 0) * luck(hidden.seed, first + 1 + i);
    const how = { fromC: atC, toC: hidden.airC, constant };
    return correctedTo(windings.pairs[pair] * level * even, how) * left(hidden, part, i);
  });
  return joinedPairs(windings, ownOhm);
}

/** @param {Hidden} hidden @param {string} part @param {number} winding
 * @returns {number} what the fault leaves of it: Infinity for a break */
function left(hidden, part, winding) {
  if (hidden.kind !== "winding" || hidden.part !== part || hidden.winding !== winding) return 1;
  return hidden.by === 1 ? Infinity : 1 - hidden.by;
}

/** @param {number[]} partsOhm */
const sum = (partsOhm) => partsOhm.reduce((soFar, rOhm) => soFar + rOhm, 0);

/** @param {WindingFacts} windings @param {number[]} ownOhm */
function joinedPairs({ pairs: given, connection }, ownOhm) {
  const pairs = Object.keys(given);
  const triangle = ["star", "delta"].indexOf(connection) >= 0 && isTriangle(pairs);
  /** @type {Object<string, number>} */
  const halves = {};
  // Winding i belongs to the lead that pair i and the one before it share.
  if (triangle) pairs.forEach((pair, i) => { halves[sharedLead(pair, pairs[(i + 2) % 3])] = ownOhm[i] / 2; });
  /** @param {number} i */
  const across = (i) => {
    const besideOhm = ownOhm[(i + 2) % 3] * 1.5 + ownOhm[(i + 1) % 3] * 1.5;
    return 1 / (1 / (ownOhm[i] * 1.5) + 1 / besideOhm);
  };
  /** @type {Object<string, number>} */
  const found = {};
  pairs.forEach((pair, i) => {
    if (!triangle) found[pair] = ownOhm[i];
    else if (connection === "star") found[pair] = sum(pair.split("-").map((lead) => halves[lead]));
    else found[pair] = across(i);
  });
  return found;
}

/** @param {number} tC */
const correctableC = (tC) =>
  Math.min(Math.max(tC, LIMITS.insulation_low_c), LIMITS.insulation_high_c);

/** @param {Hidden} hidden @param {PracticeMachine} machine @param {string} part with insulation
 * @returns {number} Ω to earth, its leads off, at today's temperature */
export function toEarthOhm(hidden, machine, part) {
  const { insulation } = machine.parts[part];
  if (!insulation) throw new RangeError(`${part} has no insulation to test`);
  const damp = hidden.kind === "damp" && hidden.part === part;
  const stray = luck(hidden.seed, EARTHS + partNumber(machine, part));
  const times = damp ? hidden.by : SOUND_TIMES * Math.pow(2, stray);
  return broughtToC(insulation.minOhm * times, {
    fromC: correctableC(insulation.limitC), toC: correctableC(hidden.airC),
    material: insulation.material,
  });
}

/** @param {import("./insulation-tested.js").InsulationVoltage} voltage @param {number} rOhm
 * @param {{stray: number}} how
 * @returns {import("./practice-reading.js").Shown} after a minute, to three digits */
export function shownInsulation(voltage, rOhm, { stray }) {
  const value = significant(rOhm * (1 + (stray * 0.9 * voltage.percent) / 100), SHOWN_DIGITS);
  if (value > voltage.maxOhm) return { value: Infinity, typed: "OL", digit: Infinity };
  return { value, typed: `${value}Ω`, digit: 0 };
}

/** @param {Hidden} hidden @param {string} part @param {{wound: boolean}} limit
 * @returns {string} how the figure moved through the minute: damp stays flat, sound rises */
export function trendShown(hidden, part, { wound }) {
  if (hidden.kind === "damp" && hidden.part === part) return "flat";
  return wound ? "rising" : "";
}
