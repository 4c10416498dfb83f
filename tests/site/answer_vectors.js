// Answer the vectors: each kind by the function of the page that it holds to Python's.

import { answerInsulation } from "../../site_config/assets/answers/insulation.js";
import { readBlinks } from "../../site_config/assets/answers/blinks.js";
import { findCodes } from "../../site_config/assets/answers/code-lookup.js";
import { compareCurves } from "../../site_config/assets/answers/comparison.js";
import { ohmAt, temperatureOf } from "../../site_config/assets/answers/curve-lookup.js";
import { familiesNamed, readyNames } from "../../site_config/assets/answers/family-words.js";
import {
  markChoice, markDisplay, markOrder, markResistance, markTap, markTemperature,
} from "../../site_config/assets/answers/drill-marked.js";
import { DrillPool } from "../../site_config/assets/answers/drill-set.js";
import { answerController } from "../../site_config/assets/answers/controller-figure.js";
import { unratedMeter } from "../../site_config/assets/answers/live-rating.js";
import {
  readPracticeBoard, readPracticeEarth, readPracticeSensor, readPracticeWindings,
} from "../../site_config/assets/answers/practice-check.js";
import { drawJob } from "../../site_config/assets/answers/practice-draw.js";
import {
  bestOrder, proveDead, readingMinutes,
} from "../../site_config/assets/answers/practice-safety.js";
import { answerPlugVolts } from "../../site_config/assets/answers/plug-volts.js";
import { answerLoop } from "../../site_config/assets/answers/loop.js";
import { lookOf, normalForm, oneSlip, wordsOf } from "../../site_config/assets/answers/normal-form.js";
import { answerReading } from "../../site_config/assets/answers/reading.js";
import { expectedReading } from "../../site_config/assets/answers/reading-expected.js";
import { answerRound } from "../../site_config/assets/answers/round.js";
import { answerStandIn } from "../../site_config/assets/answers/stand-in.js";
import { Refusal } from "../../site_config/assets/answers/statement.js";
import { answerWindings, windingRefusals } from "../../site_config/assets/answers/winding.js";
import { answerWhich } from "../../site_config/assets/answers/which.js";
import { apart, mostApart } from "../../site_config/assets/numbers/curve-pair.js";
import { sensorFromParallelOhm, voltsAtPlug } from "../../site_config/assets/numbers/divider.js";
import { machineStanding } from "../../site_config/assets/numbers/machine-standing.js";
import { Grid } from "../../site_config/assets/numbers/grid.js";
import {
  meterBesideOhm, meterDigitOhm, taken,
} from "../../site_config/assets/numbers/instruments.js";
import { judgeInsulation, parseInsulation } from "../../site_config/assets/numbers/insulation.js";
import {
  Unreadable, parseOhm, parseReading, parseTemperature,
} from "../../site_config/assets/numbers/notation.js";
import { explain } from "../../site_config/assets/numbers/likely-faults.js";
import { OutOfRange } from "../../site_config/assets/numbers/out-of-range.js";
import {
  formatDeparture, formatK, formatOhm, formatOhmEnds, formatOhmTo, formatPercent, formatT,
  formatVolts, significant,
} from "../../site_config/assets/numbers/rounding.js";
import { Seeded } from "../../site_config/assets/numbers/seeded.js";
import { standIns } from "../../site_config/assets/numbers/stand-in.js";
import { judge } from "../../site_config/assets/numbers/verdict.js";
import { whichCurve } from "../../site_config/assets/numbers/which-curve.js";
import { windingValue } from "../../site_config/assets/numbers/winding-value.js";
import { phrase } from "../../site_config/assets/words/phrase.js";
import {
  correctedTo, windingBalance,
} from "../../site_config/assets/numbers/winding.js";

/** What the vectors ask for by name. A question is JSON: what it holds, the vectors say.
 * @type {Object<string, function(...*): *>} */
const FUNCTIONS = {
  formatDeparture, formatK, formatOhm, formatOhmEnds, formatOhmTo, formatPercent, formatT,
  formatVolts, parseInsulation, parseOhm, parseReading, parseTemperature,
  sensorFromParallelOhm, significant, voltsAtPlug,
};

/** @type {Object<string, Grid>} */
const grids = {};

/** The curves once, by name; the nameless one stays nameless.
 * @param {string} text JSON @returns {number} how many there are */
export function takeGrids(text) {
  const told = JSON.parse(text);
  Object.keys(told).forEach((name) => {
    grids[name] = new Grid(told[name], name.startsWith("(") ? "" : name);
  });
  return Object.keys(grids).length;
}

/** @param {string[]} names */
function chosen(names) {
  /** @type {Object<string, Grid>} */
  const found = {};
  names.forEach((name) => { found[name] = grids[name]; });
  return found;
}

/** @param {*} facts a sensor's, with the names of curves */
function sensorIn(facts) {
  return { ...facts, curve: grids[facts.curveId], familyCurves: chosen(facts.familyCurves),
    otherCurves: chosen(facts.otherCurves) };
}

/** @param {*} answer @returns {string[]} every statement in it in words, sorted */
function said(answer) {
  const voice = { unit: answer.unit, digits: answer.digits };
  /** @type {string[]} */
  const found = [];
  /** @param {*} value */
  const look = (value) => {
    if (value === null || typeof value !== "object") return;
    if (typeof value.id === "string" && value.figures && !("term" in value)) {
      found.push(phrase(value, voice));
      return;
    }
    Object.keys(value).forEach((key) => look(value[key]));
  };
  look(answer);
  return found.sort();
}

/** @param {*} asked the places of a machine, each reading with the name of its curve */
function standing({ places, options }) {
  places.forEach((/** @type {{readings: Object<string, *>}} */ { readings }) => {
    Object.keys(readings).forEach((name) => { readings[name].grid = grids[readings[name].grid]; });
  });
  return machineStanding(places, options);
}

/** @param {*} asked a round, its sensors with the names of curves */
function roundAnswer(asked) {
  const sensors = asked.sensors.map((/** @type {*} */ sensor) =>
    ({ ...sensor, curve: grids[sensor.curveId] }));
  const answer = answerRound({ ...asked, sensors });
  return { answer, said: said(answer) };
}

/** @param {*} drill @param {*} answers @param {string} unit */
function markOf(drill, answers, unit) {
  // A broken rule asks something else than what was answered: that is no fault of the answer.
  const [first, second] = answers;
  const [typed, half] = [String(first), String(second)];
  /** @type {Object<string, function(): *>} */
  const by = {
    ohm: () => markResistance(typed, drill, grids[drill.curveId]),
    temperature: () => markTemperature(typed, drill, unit),
    choice: () => markChoice(first, drill),
    tap: () => markTap(first, drill),
    order: () => markOrder([].concat(first), drill),
    display: () => markDisplay(typed, half, drill),
  };
  try {
    return by[drill.form]();
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { refused: error.statement.id };
  }
}

/** @type {Object<string, function(*): *>} */
const ANSWERS = {
  grid({ grid, method, value }) {
    const answering = /** @type {*} */ (grids[grid]);
    return answering[method](value);
  },
  verdict({ grid, rOhm, how, options }) {
    const measured = taken(rOhm, how);
    return { measured, verdict: judge(grids[grid], measured, options) };
  },
  explain({ grid, readings, known }) {
    const [family, others] = [chosen(known.family), chosen(known.others)];
    return explain({ ...known, curve: grids[grid], family, others },
      readings.map((/** @type {*} */ one) => taken(one.rOhm, one.how)));
  },
  round: standing,
  exchanged: standing,
  which({ curves, readings }) {
    const measured = readings.map((/** @type {*} */ one) => taken(one.rOhm, one.how));
    return whichCurve(chosen(curves), { readings: measured });
  },
  "stand-in": ({ grid, wanted }) => standIns(grids[grid], wanted),
  seeded({ seed, stream, count, weights }) {
    const draw = new Seeded(seed, stream);
    const times = Array.from({ length: 12 });
    return {
      below: times.map(() => draw.below(count)), share: draw.share(),
      between: draw.between(-20, 35.5), order: draw.shuffled([0, 1, 2, 3, 4, 5, 6, 7, 8]),
      weighted: times.map(() => draw.weighted(weights)), chosen: draw.chosen([..."abcde"]),
    };
  },
  drills({ notes, answers, unit, ...asked }) {
    const drills = new DrillPool({ ...notes, curves: chosen(notes.curves) }).drills(asked);
    return { drills, marks: drills.map((drill, i) => markOf(drill, answers[i] || ["", ""], unit)) };
  },
  practice(asked) {
    const curves = chosen(asked.curves);
    const { machine, seed, minutes } = asked;
    const bench = { ...asked.bench, curves };
    Object.keys(machine.sensors).forEach((id) => {
      const { facts } = machine.sensors[id];
      facts.curve = grids[facts.curveId];
    });
    const hidden = drawJob(seed, { machines: [machine], curves });
    const at = { machine, bench };
    /** @type {*[]} */
    const reads = [];
    Object.keys(machine.sensors).forEach((sensor) => ["ice-water", "held-on"].forEach((placement) =>
      [false, true].forEach((plugged) => {
        const how = { sensor, meter: "pocket", thermometer: "probe", placement, plugged };
        const { ohm, beside, judged } = readPracticeSensor(hidden, at, how);
        reads.push({ ohm, beside, verdict: judged.verdict });
      })));
    const windings = readPracticeWindings(hidden, at,
      { part: "motor", meter: "pocket", thermometer: "probe" });
    const earth = readPracticeEarth(hidden, at,
      { part: "motor", tester: "tester", thermometer: "probe" });
    return {
      hidden, reads,
      board: readPracticeBoard(hidden, machine, { sensor: "r1", rOhm: 10e3, share: 0.01 }),
      windings: { shown: windings.shown, state: windings.answer.state },
      earth: { ohm: earth.ohm, trend: earth.trend, state: earth.answer.state },
      best: bestOrder(machine.codes[hidden.code], { suspect: hidden.suspect }),
      minutes: ["ice-water", "strapped", "air"].reduce((/** @type {number[]} */ all, placement) =>
        [...all, ...[false, true].map((again) => readingMinutes(minutes, { placement, again }))], []),
      proof: proveDead(machine, { done: ["isolate"], minutes }),
    };
  },
  divider: ({ name, first, board }) => FUNCTIONS[name](first, board),
  winding({ readings, how, meter }) {
    const leads = Object.keys(readings);
    const rOhm = leads.map((one) => readings[one]);
    const beside = meterBesideOhm(meter, rOhm);
    /** @type {Object<string, number>} */
    const halfWidthsOhm = {};
    /** @type {Object<string, number>} */
    const digits = {};
    leads.forEach((one, i) => {
      halfWidthsOhm[one] = beside[i];
      digits[one] = meterDigitOhm(meter, rOhm[i]);
    });
    return {
      digits,
      balance: windingBalance(readings, { ...how, halfWidthsOhm }),
    };
  },
  "winding-corrected": ({ rOhm, how }) => correctedTo(rOhm, how),
  insulation: ({ rOhm, of }) => judgeInsulation(rOhm, of),
  "winding-value": ({ rOhm, of }) => windingValue(rOhm, of),
  "curve-pair": ({ one, other, tC }) => ({
    most: mostApart(grids[one], { other: grids[other] }),
    here: apart(grids[one], { other: grids[other], tC }),
  }),
  "answer-reading": (asked) => {
    const question = { ...asked, sensor: sensorIn(asked.sensor) };
    if (asked.expected) {
      const expected = expectedReading(question);
      return { expected, said: said(expected) };
    }
    const answer = answerReading(question);
    return { answer, said: said(answer) };
  },
  "answer-volts": (asked) => {
    const answer = answerPlugVolts({ ...asked, sensor: sensorIn(asked.sensor) });
    return { answer, said: said(answer) };
  },
  "live-rating": ({ sensor, ...how }) => {
    const answer = { unrated: unratedMeter(sensorIn(sensor), how) };
    return { answer, said: said(answer) };
  },
  "answer-controller": (asked) => {
    const answer = answerController({ ...asked, sensor: sensorIn(asked.sensor) });
    return { answer, said: said(answer) };
  },
  "answer-loop": (asked) => {
    const answer = answerLoop(asked);
    return { answer, said: said(answer) };
  },
  "answer-winding": (asked) => {
    if (asked.refusals) {
      return { refusals: windingRefusals(asked).map(({ field, missing, statement, choices }) =>
        ({ field, missing, statement, choices })) };
    }
    const answer = answerWindings(asked);
    return { answer, said: said(answer) };
  },
  "answer-insulation": (asked) => {
    const answer = answerInsulation(asked);
    return { answer, said: said(answer) };
  },
  spelling: ({ text, other }) => {
    const form = normalForm(text);
    return { form, look: lookOf(form), words: wordsOf(text), slip: oneSlip(form, normalForm(other)) };
  },
  blinks: ({ text }) => readBlinks(text),
  "find-codes": (asked) => findCodes(asked),
  "families-named": ({ text, families }) => familiesNamed(text, families.map(readyNames)),
  "answer-round": (asked) => roundAnswer(asked),
  "directed-round": (asked) => roundAnswer(asked),
  "answer-which": (asked) => {
    const answer = answerWhich({ ...asked, curves: chosen(asked.curves) });
    return { answer, said: said(answer) };
  },
  "answer-lookup": ({ way, text, curveId, unit }) => {
    const ask = way === "ohmAt" ? ohmAt : temperatureOf;
    const answer = ask(text, { curve: grids[curveId], curveId, unit });
    return { answer, said: said(answer) };
  },
  "answer-stand-in": (asked) => {
    const answer = answerStandIn({ ...asked, curve: grids[asked.curveId] });
    return { answer, said: said(answer) };
  },
  "answer-pair": ({ one, other, text, unit }) => {
    const answer = compareCurves(text, { curve: grids[one], other: grids[other], unit });
    return { answer, said: said(answer) };
  },
  "directed-lookup": ({ kind, asked, compiled }) => {
    Object.keys(compiled).forEach((name) => { grids[name] = new Grid(compiled[name], name); });
    return ANSWERS[kind](asked);
  },
  notation: ({ name, text, unit }) => FUNCTIONS[name](text, unit),
  rounding: ({ name, asked }) => FUNCTIONS[name](...asked),
};

/** JSON knows no infinity: both ways it goes as text.
 * @param {string} _ @param {*} value */
function revived(_, value) { return value === "Infinity" ? Infinity : value; }

/** @param {string} _ @param {*} value */
function finite(_, value) {
  return typeof value === "number" && !Number.isFinite(value) ? String(value) : value;
}

/** @param {{kind: string, asked: *}} vector @returns {object} the answer, or how it is refused */
function answer({ kind, asked }) {
  try {
    return { answer: ANSWERS[kind](asked) };
  } catch (error) {
    if (error instanceof Refusal) {
      const { field, missing, statement, choices } = error;
      return { refusal: { field, missing, statement, choices } };
    }
    if (error instanceof OutOfRange) {
      const { value, low, high, unit } = error;
      return { outOfRange: { value, low, high, unit } };
    }
    if (error instanceof Unreadable) {
      return { unreadable: { why: error.message, figures: error.figures } };
    }
    if (error instanceof RangeError) return { refused: error.message };
    throw error;
  }
}

/** @param {string} text JSON: questions @returns {string} JSON: an answer to each */
export function answerVectors(text) {
  return JSON.stringify(JSON.parse(text, revived).map(answer), finite);
}
