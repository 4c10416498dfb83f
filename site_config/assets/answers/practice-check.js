// Check a suspect of a practice job with the team's instruments, and say what it shows. Mirrors
// kb/answers/practice_check.py.

import { answerInsulation } from "./insulation.js";
import { judgeTyped } from "./judged.js";
import { luck } from "./practice-draw.js";
import {
  TESTERS, pairsOhm, shownInsulation, toEarthOhm, trendShown,
} from "./practice-motor.js";
import {
  METERS, PROBES, besideC, betweenTipsOhm, boardShowsC, boardState, shownC, shownOhm,
} from "./practice-reading.js";
import { shownBy } from "./tools.js";
import { ICE, typedReadingOhm } from "./typed.js";
import { answerWindings } from "./winding.js";

/**
 * @typedef {import("./practice-draw.js").Hidden} Hidden
 * @typedef {import("./practice-draw.js").PracticeMachine} PracticeMachine
 * @typedef {import("./practice-reading.js").Shown} Shown
 * @typedef {import("../numbers/grid.js").Grid} Grid
 * What a job is done with; the draws of each instrument hang on its place there.
 * @typedef {{curves: Object<string, Grid>,
 *   meters: Object<string, import("./tools.js").NamedMeter>,
 *   thermometers: Object<string, import("./tools.js").NamedThermometer>,
 *   testers: Object<string, import("./insulation-tested.js").NamedTester>,
 *   shortOhm: number}} Bench
 * beside: null where the ice is the temperature.
 * @typedef {{sensor: string, placement: string, plugged: boolean, ohm: Shown, beside: ?Shown,
 *   judged: import("./judged.js").Judged}} SensorRead
 */

const BY_EYE = ["wet-plug", "exchanged", "unplugged"];

/** @param {Hidden} hidden @returns {boolean} whether somebody who looks at plug and wiring sees it */
export const isSeen = ({ kind }) => BY_EYE.indexOf(kind) >= 0;

/** @param {Hidden} hidden @param {number} first @param {Object<string, *>} tools @param {string} id */
const strayOf = ({ seed }, first, tools, id) => luck(seed, first + Object.keys(tools).indexOf(id));

/** @param {Hidden} hidden @param {{machine: PracticeMachine, bench: Bench}} at
 * @param {{sensor: string, meter: string, thermometer: string, placement: string,
 *   plugged?: boolean}} how
 * @returns {SensorRead} what the instruments show, and how judge judges that */
export function readPracticeSensor(hidden, { machine, bench }, how) {
  const { sensor, meter, thermometer, placement, plugged = false } = how;
  const [tool, probe] = [bench.meters[meter], bench.thermometers[thermometer]];
  const tipsOhm = betweenTipsOhm(hidden, { machine, curves: bench.curves },
    { sensor, placement, plugged });
  const ohm = shownOhm(tool.meter, tipsOhm,
    { stray: strayOf(hidden, METERS, bench.meters, meter) });
  const beside = placement === ICE ? null : shownC(probe.thermometer,
    besideC(hidden, machine, { sensor, placement }),
    { stray: strayOf(hidden, PROBES, bench.thermometers, thermometer) });
  const tools = { meter: tool, thermometer: probe, placement };
  const judged = judgeTyped(machine.sensors[sensor].facts,
    shownBy(tools, typedReadingOhm(ohm.typed, { field: "reading" })),
    { at: beside ? beside.typed : "", unit: "C", tools, shortOhm: bench.shortOhm });
  return { sensor, placement, plugged, ohm, beside, judged };
}

/** @param {Hidden} hidden @param {PracticeMachine} machine
 * @param {{sensor: string, rOhm: number, share: number}} resistor printed on it, its tolerance
 * @returns {{showsC: number, shouldC: number, state: string}} what the board makes of it */
export function readPracticeBoard(hidden, machine, { sensor, rOhm, share }) {
  const { curve } = machine.sensors[sensor].facts;
  const shouldC = curve.beyondC(rOhm);
  const showsC = boardShowsC(hidden, machine, { sensor, rOhm });
  const spreadK = Math.max(...[-share, share].map((off) =>
    Math.abs(curve.beyondC(rOhm * (1 + off)) - shouldC)));
  return { showsC, shouldC, state: boardState(showsC, { shouldC, spreadK }) };
}

/** @param {Hidden} hidden @param {Bench} bench @param {string} thermometer
 * @returns {Shown} on a motor that has cooled through */
const shell = (hidden, bench, thermometer) =>
  shownC(bench.thermometers[thermometer].thermometer, hidden.airC,
    { stray: strayOf(hidden, PROBES, bench.thermometers, thermometer) });

/** @param {Hidden} hidden @param {{machine: PracticeMachine, bench: Bench}} at
 * @param {{part: string, meter: string, thermometer: string}} how leads taken off, the meter's zeroed
 * @returns {{shown: Object<string, Shown>, at: Shown,
 *   answer: import("./winding.js").WindingAnswer}} */
export function readPracticeWindings(hidden, { machine, bench }, { part, meter, thermometer }) {
  const { windings } = machine.parts[part];
  if (!windings) throw new RangeError(`${part} has no windings to read`);
  const tool = bench.meters[meter];
  const stray = strayOf(hidden, METERS, bench.meters, meter);
  const ohms = pairsOhm(hidden, machine, { part, windings });
  /** @type {Object<string, Shown>} */
  const shown = {};
  Object.keys(ohms).forEach((pair) => {
    shown[pair] = shownOhm(tool.meter, ohms[pair], { stray, leads: false });
  });
  const at = shell(hidden, bench, thermometer);
  /** @type {Array<[string, string]>} */
  const readings = Object.keys(shown).map((pair) => [pair, shown[pair].typed]);
  return { shown, at,
    answer: answerWindings({ part: windings, readings, at: at.typed, meter: tool }) };
}

/** @param {Hidden} hidden @param {{machine: PracticeMachine, bench: Bench}} at
 * @param {{part: string, tester: string, thermometer: string}} how leads off, dry
 * @returns {{ohm: Shown, at: Shown, trend: string,
 *   answer: import("./insulation.js").InsulationAnswer}} */
export function readPracticeEarth(hidden, { machine, bench }, { part, tester, thermometer }) {
  const { insulation } = machine.parts[part];
  if (!insulation) throw new RangeError(`${part} has no insulation to test`);
  const tool = bench.testers[tester];
  const voltage = tool.voltages.filter((row) => row.volts === insulation.testVolts)[0];
  const ohm = shownInsulation(voltage, toEarthOhm(hidden, machine, part),
    { stray: strayOf(hidden, TESTERS, bench.testers, tester) });
  const at = shell(hidden, bench, thermometer);
  const trend = trendShown(hidden, part, insulation);
  return { ohm, at, trend, answer: answerInsulation({
    part: insulation, volts: String(insulation.testVolts), reading: ohm.typed, at: at.typed,
    testers: [tool], tester, surface: "dry", trend,
  }) };
}
