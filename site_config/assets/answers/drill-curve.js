// Drills on a sensor's curve. Mirrors kb/answers/drill_curve.py.

import { PLACEMENTS } from "../catalog.js";
import { FIXED_POINT, rangeFor, thermometerHalfK } from "../numbers/instruments.js";
import { meterDisplay } from "../numbers/meter-display.js";
import { ohmDigits } from "../numbers/ohm-digits.js";
import { OutOfRange } from "../numbers/out-of-range.js";
import { significant } from "../numbers/rounding.js";
import { judge, shortBelowOhm } from "../numbers/verdict.js";
import { drillOf } from "./drill.js";
import { statement } from "./statement.js";
import { take } from "./tools.js";

/**
 * @typedef {import("./drill.js").Drill} Drill
 * @typedef {import("./drill.js").DrillNotes} DrillNotes
 * @typedef {import("./drill.js").DrillSensor} DrillSensor
 * @typedef {import("./drill.js").Grid} Grid
 * @typedef {import("./drill.js").Seeded} Seeded
 * @typedef {import("./tools.js").Tools} Tools
 * @typedef {{verdict: string, by: number, sign: number, digits: number}} Aim
 */

const ICE_C = 0;
const LEAST_SPAN_K = 5;
const VERDICT_CHOICES = ["within", "outside", "undecided", "open", "short"];
const SHORT_DIGITS = 20;

/** @param {DrillNotes} notes @returns {DrillSensor[]} those that can be asked about by their curve */
export const onCurve = (notes) => notes.sensors.filter((sensor) => {
  const curve = notes.curves[sensor.curveId];
  if (!curve || !sensor.meetsC) return false;
  const [lowC, highC] = endsC(sensor, curve);
  return highC - lowC >= LEAST_SPAN_K && (curve.toleranceKnown || sensor.allowK > 0);
});

/** @param {DrillSensor} sensor @param {DrillNotes} notes @param {Seeded} draw
 * @returns {Drill} what should it read at this temperature? */
export function expectedResistance(sensor, notes, draw) {
  const curve = notes.curves[sensor.curveId];
  const tC = degrees(sensor, curve, draw);
  return typedDrill("ohm", sensor, curve, { tC, limitK: limitOf(sensor, curve, tC) });
}

/** @param {DrillSensor} sensor @param {DrillNotes} notes @param {Seeded} draw
 * @returns {Drill} how warm is it where it reads this? */
export function temperatureOfReading(sensor, notes, draw) {
  const curve = notes.curves[sensor.curveId];
  const nearC = degrees(sensor, curve, draw);
  // What is shown is what is asked about: its last digit counts.
  const rOhm = significant(curve.ohm(nearC), ohmDigits(curve));
  return typedDrill("temperature", sensor, curve,
    { tC: curve.beyondC(rOhm), rOhm, limitK: limitOf(sensor, curve, nearC) });
}

/** @param {DrillSensor} sensor @param {DrillNotes} notes @param {Seeded} draw
 * @returns {Drill} is this reading right? By the rule that judges every reading. */
export function verdictOfReading(sensor, notes, draw) {
  const curve = notes.curves[sensor.curveId];
  const anyC = degrees(sensor, curve, draw);
  const [lowC, highC] = endsC(sensor, curve);
  const inIce = draw.below(2) === 0 && lowC <= ICE_C && ICE_C <= highC;
  const named = draw.chosen(notes.meters);
  const anyPlace = draw.chosen(Object.keys(PLACEMENTS).filter((name) => name !== FIXED_POINT));
  const [tC, placement] = inIce ? [ICE_C, FIXED_POINT] : [anyC, anyPlace];
  const probes = notes.thermometers.filter(({ thermometer }) => reads(thermometer, tC));
  const probe = probes.length ? draw.chosen(probes) : null;
  const tools = { meter: named, thermometer: inIce ? null : probe, placement };
  const aim = {
    verdict: draw.chosen(VERDICT_CHOICES), by: draw.share(), sign: draw.below(2) ? 1 : -1,
    digits: draw.below(SHORT_DIGITS),
  };
  /** @param {number} rOhm */
  const judged = (rOhm) => judge(curve, take(tools, rOhm, { tC }),
    { allowK: sensor.allowK, shortOhm: notes.shortOhm });
  let shownOhm = aimedOhm(aim, { sensor, curve, tC, tools });
  if (!VERDICT_CHOICES.includes(judged(shownOhm).verdict)) shownOhm = Infinity;
  const verdict = judged(shownOhm);
  const used = rangeFor(named.meter, shownOhm);
  return drillOf({
    kind: "verdict", form: "choice", family: sensor.family, about: `sensors/${sensor.id}`,
    ask: statement("drill.ask-verdict", { sensor: sensor.name }),
    given: [statement("drill.given-verdict", {
      t_c: tC, how: statement(`drill.how-${placement}`), meter: named.name,
      thermometer: tools.thermometer ? tools.thermometer.name
        : statement(`drill.${inIce ? "ice" : "no"}-thermometer`),
      shown: used ? meterDisplay(shownOhm, used).join(" ") : statement("drill.over-range"),
    })],
    choices: VERDICT_CHOICES.map((name) => statement(`drill.is-${name}`)),
    right: [VERDICT_CHOICES.indexOf(verdict.verdict)],
    curveId: sensor.curveId, digits: ohmDigits(curve), figures: { shownOhm, tC },
    because: becauseOf(verdict, { tC, curve, shortOhm: notes.shortOhm }),
  });
}

/** @param {DrillSensor} sensor @param {Grid} curve @param {number} tC
 * @returns {number} how far off a typed answer may be */
const limitOf = (sensor, curve, tC) => (curve.toleranceKnown ? curve.tolK(tC) : sensor.allowK);

/** @param {DrillSensor} sensor @param {Grid} curve
 * @returns {number[]} lowest and highest whole degree that it meets and its curve holds */
function endsC(sensor, curve) {
  const [lowestC, highestC] = sensor.meetsC || [curve.lowC, curve.highC];
  return [Math.ceil(Math.max(lowestC, curve.lowC)), Math.floor(Math.min(highestC, curve.highC))];
}

/** @param {DrillSensor} sensor @param {Grid} curve @param {Seeded} draw */
function degrees(sensor, curve, draw) {
  const [lowC, highC] = endsC(sensor, curve);
  return lowC + draw.below(highC - lowC + 1);
}

/** @param {string} kind @param {DrillSensor} sensor @param {Grid} curve
 * @param {{tC: number, limitK: number, rOhm?: number}} figures */
function typedDrill(kind, sensor, curve, figures) {
  const { tC, limitK } = figures;
  const insideC = Math.min(Math.max(tC, curve.lowC), curve.highC);
  const rOhm = figures.rOhm === undefined ? curve.ohm(insideC) : figures.rOhm;
  return drillOf({
    kind, form: kind, family: sensor.family, about: `sensors/${sensor.id}`,
    ask: statement(`drill.ask-${kind}`,
      { sensor: sensor.name, ...(kind === "ohm" ? { t_c: tC } : { r_ohm: rOhm }) }),
    curveId: sensor.curveId, digits: ohmDigits(curve), figures,
    because: [
      statement("drill.because-curve", { t_c: tC, r_ohm: rOhm }),
      statement("drill.because-limit", { limit_k: limitK }),
    ],
  });
}

/** @param {import("../numbers/instruments.js").Thermometer} thermometer @param {number} tC */
function reads(thermometer, tC) {
  try {
    return thermometerHalfK(thermometer, tC) >= 0;
  } catch (error) {
    if (!(error instanceof OutOfRange)) throw error;
    return false;
  }
}

/** @param {Aim} aim
 * @param {{sensor: DrillSensor, curve: Grid, tC: number, tools: Tools}} on
 * @returns {number} what the meter shows for what is aimed at, to its own last digit */
function aimedOhm(aim, { sensor, curve, tC, tools }) {
  const meter = tools.meter && tools.meter.meter;
  if (!meter || aim.verdict === "open") return Infinity;
  if (aim.verdict === "short") return aim.digits * meter.ranges[0].resolution_ohm;
  const sound = judge(curve, take(tools, curve.ohm(tC) + meter.leads_ohm, { tC }),
    { allowK: sensor.allowK });
  const [limitK, uK] = [sound.limitK, sound.uncertaintyK || 0];
  let errorK = limitK + uK * 0.4 * (aim.by - 0.5);
  if (aim.verdict === "outside") errorK = (limitK + uK) * (1.3 + aim.by);
  else if (aim.verdict === "within" && limitK > uK) errorK = (limitK - uK) * 0.7 * aim.by;
  let readsC = tC + aim.sign * errorK;
  if (!curve.holds(readsC)) {
    readsC = Math.min(Math.max(tC - aim.sign * errorK, curve.lowC), curve.highC);
  }
  const rOhm = curve.ohm(readsC) + meter.leads_ohm;
  const used = rangeFor(meter, rOhm);
  return used ? Math.floor(rOhm / used.resolution_ohm + 0.5) * used.resolution_ohm : Infinity;
}

/** @param {import("../numbers/verdict.js").Verdict} verdict
 * @param {{tC: number, curve: Grid, shortOhm: ?number}} on
 * @returns the working: what it rests on, then the rule that decides */
function becauseOf(verdict, { tC, curve, shortOhm }) {
  const expected = statement("drill.because-expected",
    { t_c: tC, part_ohm: [verdict.lowOhm, verdict.highOhm] });
  if (verdict.verdict === "short") {
    return [expected, statement("drill.because-short", { r_ohm: shortBelowOhm(curve, shortOhm) })];
  }
  if (verdict.errorK === null || verdict.uncertaintyK === null) {
    return [expected,
      statement(`drill.because-${verdict.verdict === "open" ? "open" : "beyond-meter"}`)];
  }
  const { errorK, limitK, uncertaintyK } = verdict;
  return [
    expected,
    statement("drill.because-compared",
      { error_k: errorK, limit_k: limitK, uncertainty_k: uncertaintyK }),
    statement(`drill.because-${verdict.verdict}`),
  ];
}
