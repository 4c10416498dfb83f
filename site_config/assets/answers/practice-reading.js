// What instruments show on a practice machine: its sensors and its board's input. Mirrors
// kb/answers/practice_reading.py.

import { PLACEMENTS } from "../catalog.js";
import { parallelOhm } from "../numbers/divider.js";
import { significant } from "../numbers/rounding.js";
import { BOARD_K, DISPLAY_HALF_K } from "./controller-figure.js";
import { luck, sitsAt } from "./practice-draw.js";
import { ICE } from "./typed.js";

/** @typedef {import("./practice-draw.js").Hidden} Hidden */
/** @typedef {import("./practice-draw.js").PracticeMachine} PracticeMachine */
/** @typedef {import("../numbers/grid.js").Grid} Grid */
/** What a display shows: Infinity over range; typed: as somebody would write it down.
 * @typedef {{value: number, typed: string, digit: number}} Shown */

const PARTS = 1000;
const SPOTS = 2000;
export const METERS = 3000;
export const PROBES = 4000;
const BOARDS = 5000;
const TRUE_SHARE = 0.9;
const DIGITS = 9;

/** Off by at most what its accuracy allows, the rounding of the display included.
 * @param {import("../numbers/instruments.js").Meter} meter @param {number} rOhm between its tips
 * @param {{stray: number, leads?: boolean}} how stray: from −1 to 1; leads: still in the reading
 * @returns {Shown} */
export function shownOhm(meter, rOhm, { stray, leads = true }) {
  const bareOhm = rOhm + (leads ? meter.leads_ohm : 0);
  for (const range of bareOhm < Infinity ? meter.ranges : []) {
    const onOhm = Math.min(bareOhm, range.span_ohm);
    const offOhm = (onOhm * range.percent) / 100 + range.digits * range.resolution_ohm;
    const seenOhm = bareOhm + stray * (offOhm - range.resolution_ohm / 2);
    const counts = Math.max(Math.floor(seenOhm / range.resolution_ohm + 0.5), 0);
    const value = significant(counts * range.resolution_ohm, DIGITS);
    if (value <= range.span_ohm) return { value, typed: `${value}Ω`, digit: range.resolution_ohm };
  }
  return { value: Infinity, typed: "OL", digit: Infinity };
}

/** @param {import("../numbers/instruments.js").Thermometer} thermometer @param {number} tC
 * @param {{stray: number}} how @returns {Shown} off by at most its accuracy */
export function shownC(thermometer, tC, { stray }) {
  const offK = thermometer.accuracy_k + (Math.abs(tC) * thermometer.percent) / 100;
  const stepK = thermometer.resolution_k || 0.1;
  const seenC = tC + stray * TRUE_SHARE * offK;
  const value = significant(Math.floor(seenC / stepK + 0.5) * stepK, DIGITS);
  return { value, typed: String(value), digit: stepK };
}

/** @param {PracticeMachine} machine @param {string} sensor */
const sensorNumber = (machine, sensor) => Object.keys(machine.sensors).indexOf(sensor);

/** @param {Hidden} hidden @param {PracticeMachine} machine @param {string} sensor
 * @param {string} placement @returns {number} the element's: in its place, or near nought in ice */
function atSensorC(hidden, machine, sensor, placement) {
  if (placement !== ICE) return hidden.placesC[sitsAt(machine.sensors[sensor])];
  return luck(hidden.seed, SPOTS + sensorNumber(machine, sensor)) * PLACEMENTS[ICE];
}

/** @param {Hidden} hidden @param {PracticeMachine} machine
 * @param {{sensor: string, placement: string}} where
 * @returns {number} how warm the thermometer is beside it, by the way it is put there */
export function besideC(hidden, machine, { sensor, placement }) {
  if (placement === ICE) return 0;
  const stray = luck(hidden.seed, SPOTS + sensorNumber(machine, sensor));
  return atSensorC(hidden, machine, sensor, placement) + stray * PLACEMENTS[placement];
}

/** In ice the element is cold; where plugs are exchanged, not the one that this plug leads to.
 * @param {Hidden} hidden @param {{machine: PracticeMachine, curves: Object<string, Grid>}} notes
 * @param {{sensor: string, placement?: string}} where
 * @returns {number} Ω at the sensor's side of its plug, pulled; Infinity for a break */
export function atPlugOhm(hidden, { machine, curves }, { sensor, placement = "air" }) {
  const pair = [hidden.sensor, hidden.partner];
  if (hidden.kind === "exchanged" && pair.indexOf(sensor) >= 0) {
    const other = pair[1 - pair.indexOf(sensor)];
    return elementOhm(hidden, machine, curves, other, atSensorC(hidden, machine, other, "air"));
  }
  const atC = atSensorC(hidden, machine, sensor, placement);
  const rOhm = elementOhm(hidden, machine, curves, sensor, atC);
  const wet = hidden.kind === "wet-plug" && sensor === hidden.sensor;
  return wet ? parallelOhm(rOhm, { otherOhm: hidden.by }) : rOhm;
}

/** @param {Hidden} hidden @param {PracticeMachine} machine @param {Object<string, Grid>} curves
 * @param {string} sensor @param {number} tC
 * @returns {number} Ω of the element, somewhere in its tolerance, with what is wrong with it */
function elementOhm(hidden, machine, curves, sensor, tC) {
  const { curve } = machine.sensors[sensor].facts;
  const stray = luck(hidden.seed, PARTS + sensorNumber(machine, sensor));
  const ownK = stray * TRUE_SHARE * curve.tolK(Math.min(Math.max(tC, curve.lowC), curve.highC));
  if (sensor === hidden.sensor) {
    if (hidden.kind === "open") return Infinity;
    if (hidden.kind === "short") return hidden.by;
    if (hidden.kind === "wrong-part") return curves[hidden.curve].beyondOhm(tC);
    if (hidden.kind === "drifted") return driftedOhm(hidden, machine, curve, tC);
  }
  return curve.beyondOhm(tC + ownK);
}

/** R = R25 exp(B (1/T − 1/T25)), so that (R/R25)^(1 + b) R25 has B larger by the share b.
 * @param {Hidden} hidden @param {PracticeMachine} machine @param {Grid} curve @param {number} tC
 * @returns {number} Ω of a sensor whose R25 and B have moved */
function driftedOhm(hidden, machine, curve, tC) {
  const atC = hidden.placesC[sitsAt(machine.sensors[hidden.sensor])];
  const middleOhm = curve.beyondOhm(Math.min(Math.max(25, curve.lowC), curve.highC));
  /** @param {number} warmC */
  const tilted = (warmC) => Math.pow(curve.beyondOhm(warmC) / middleOhm, 1 + hidden.tilt);
  return (curve.beyondOhm(atC + hidden.by) * tilted(tC)) / tilted(atC);
}

/** Still in, the board's pull-up lies beside the sensor; a plug that is out already lies beside nothing.
 * @param {Hidden} hidden @param {{machine: PracticeMachine, curves: Object<string, Grid>}} notes
 * @param {{sensor: string, placement?: string, plugged?: boolean}} where
 * @returns {number} Ω between a meter's tips, the machine dead */
export function betweenTipsOhm(hidden, notes, { sensor, placement, plugged = false }) {
  const rOhm = atPlugOhm(hidden, notes, { sensor, placement });
  const { pullUpOhm } = notes.machine.sensors[sensor].facts;
  const hangs = hidden.kind === "unplugged" && sensor === hidden.sensor;
  if (!plugged || !pullUpOhm || hangs) return rOhm;
  return parallelOhm(rOhm, { otherOhm: pullUpOhm * boardShare(hidden, sensor) });
}

/** @param {Hidden} hidden @param {string} sensor */
const boardShare = (hidden, sensor) =>
  (hidden.kind === "board-input" && sensor === hidden.sensor ? hidden.by : 1);

/** The divider gives U0 R/(R + Rp'), and the board takes its pull-up for Rp: so it sees R Rp/Rp'.
 * @param {Hidden} hidden @param {PracticeMachine} machine
 * @param {{sensor: string, rOhm: number}} at its input
 * @returns {number} the degrees that the board makes of it, to a half; the end beyond its curve */
export function boardShowsC(hidden, machine, { sensor, rOhm }) {
  const { curve } = machine.sensors[sensor].facts;
  const seenOhm = rOhm / boardShare(hidden, sensor);
  const insideOhm = Math.min(Math.max(seenOhm, curve.lowOhm), curve.highOhm);
  const stray = luck(hidden.seed, BOARDS + sensorNumber(machine, sensor));
  return Math.floor((curve.tC(insideOhm) + stray * BOARD_K) * 2 + 0.5) / 2;
}

/** Board, display and resistor are added whole: no sound board is condemned.
 * @param {number} boardC @param {{shouldC: number, spreadK: number}} resistor
 * @returns {string} within or outside */
export const boardState = (boardC, { shouldC, spreadK }) =>
  (Math.abs(boardC - shouldC) <= BOARD_K + DISPLAY_HALF_K + spreadK ? "within" : "outside");
