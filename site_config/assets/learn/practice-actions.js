// What can be done next on a practice job, each with the minutes it costs.

import { STEP_MINUTES, nextSafeStep } from "../answers/practice-safety.js";
import { ICE, SISTER } from "../answers/typed.js";
import { formatOhm } from "../numbers/rounding.js";
import { inWords } from "../words/phrase.js";
import {
  ASK_MIN, FETCH_MIN, believedC, codeOf, earthOf, isSafe, lookAt, minutesToRead, readOf,
  resistorAt, sisterOf, spend, standInOhm, takeProof, takeStep, windingsOf,
} from "./practice-job.js";
import {
  chargeWords, halfDegrees, labelOf, machineWords, seenWords, suspectWords,
} from "./practice-words.js";

/**
 * @typedef {import("./practice-job.js").Job} Job
 * words: on the key; run: does it.
 * @typedef {{words: string, minutes: number, run: function(): void}} Action
 * One suspect, or the machine: what to mind, and what can be done.
 * @typedef {{title: string, href: string, look: string, cautions: string[],
 *   actions: Action[]}} Group
 * An action with hands inside: its words, its minutes, what is seen.
 * @typedef {function(string, number, function(): import("./practice-job.js").Seen): Action} Hands
 */

const WAYS = [ICE, "strapped", "held-on", "air"];

/** @param {Job} job @returns {Action[]} to make it safe, or to switch it on again */
export function safetyActions(job) {
  const { done, machine, tools } = job;
  const words = machineWords(job);
  /** @type {Action[]} */
  const actions = [];
  const step = (/** @type {string} */ name, /** @type {string} */ text) => actions.push({
    words: text, minutes: STEP_MINUTES[name], run: () => takeStep(job, name, text) });
  if (done.indexOf("isolate") < 0) step("isolate", inWords("practice.isolate", { where: words.isolateAt }));
  else if (done.indexOf("lock") < 0) step("lock", inWords("practice.lock"));
  if (done.length && done.indexOf("prove") < 0 && machine.waitMin > 0) {
    const minutes = machine.waitMin;
    const text = inWords("practice.wait", { minutes });
    actions.push({ words: text, minutes, run: () => spend(job, { act: "wait", minutes, words: text }) });
  }
  if (done.indexOf("prove") < 0 && tools.dead) {
    actions.push({
      words: inWords("practice.prove", { tool: OhmPractice.tester, where: words.drainAt,
        below: chargeWords(machine.drainedV) }),
      minutes: STEP_MINUTES.prove,
      run: () => {
        const { state, volts } = takeProof(job);
        spend(job, { act: "prove", minutes: STEP_MINUTES.prove,
          words: inWords(`practice.proof-${state}`, { volts: chargeWords(volts) }) });
      },
    });
  }
  if (done.length) step("power", inWords("practice.power"));
  return actions;
}

/** @param {Job} job @returns {Action[]} what needs the power on, and no hands */
export function askActions(job) {
  if (job.done.length) return [];
  const sensors = codeOf(job).suspects.map((row) => row.sensor).filter((id, i, all) =>
    id && all.indexOf(id) === i);
  return sensors.map((sensor) => ({
    words: inWords("practice.ask", { sensor: labelOf(job, sensor) }), minutes: ASK_MIN,
    run: () => spend(job, { act: "ask", minutes: ASK_MIN,
      seen: { kind: "ask", suspect: -1, sensor, part: "", found: null },
      words: inWords("practice.believes", { sensor: labelOf(job, sensor),
        shown: halfDegrees(believedC(job, sensor)) }) }),
  }));
}

/** @param {Job} job @returns {Action[]} what lies in the van still */
export function fetchActions(job) {
  const { tools, bench } = job;
  /** @type {Action[]} */
  const actions = [];
  const fetch = (/** @type {string} */ name, /** @type {function(): void} */ take) => {
    const words = inWords("practice.fetch", { tool: name });
    actions.push({ words, minutes: FETCH_MIN, run: () => {
      take();
      spend(job, { act: "fetch", minutes: FETCH_MIN, words });
    } });
  };
  Object.keys(bench.meters).filter((id) => id !== tools.meter).forEach((id) =>
    fetch(bench.meters[id].name, () => { tools.meter = id; }));
  Object.keys(bench.thermometers).filter((id) => id !== tools.thermometer).forEach((id) =>
    fetch(bench.thermometers[id].name, () => { tools.thermometer = id; }));
  Object.keys(bench.testers).filter((id) => id !== tools.tester).forEach((id) =>
    fetch(bench.testers[id].name, () => { tools.tester = id; }));
  if (!tools.dead && OhmPractice.tester) fetch(OhmPractice.tester, () => { tools.dead = true; });
  return actions;
}

/** @param {Job} job @returns {Group[]} the suspects, by name: their order is what is practised */
export function suspectGroups(job) {
  const groups = codeOf(job).suspects.map((row, suspect) => {
    const { name, look, cautions, methodHref } = suspectWords(job, suspect);
    const part = row.part ? machineWords(job).parts[row.part] : null;
    const own = part && part.apart && row.check === "motor" ? [part.apart, ...cautions] : cautions;
    return { title: name, href: methodHref, look,
      cautions: own.length ? own : cautionsAnyway(job, suspect),
      actions: actionsOf(job, suspect) };
  });
  return groups.sort((a, b) => (a.title < b.title ? -1 : 1));
}

/** Where the notes have no method, hands go in all the same.
 * @param {Job} job @param {number} suspect @returns {string[]} */
function cautionsAnyway(job, suspect) {
  if (suspectWords(job, suspect).live) return [inWords("practice.mind-live")];
  return codeOf(job).suspects[suspect].part ? [inWords("practice.mind-hands")] : [];
}

/** @param {Job} job @param {number} suspect @returns {Action[]} */
function actionsOf(job, suspect) {
  const row = codeOf(job).suspects[suspect];
  const { part } = row;
  /** @type {Hands} */
  const hands = (words, minutes, look) => ({ words, minutes, run: () => {
    if (!isSafe(job)) {
      spend(job, { act: "hands", minutes: 0, suspect, words });
      return;
    }
    const seen = look();
    spend(job, { act: seen.kind, minutes, suspect, seen, words: seenWords(job, seen) });
  } });
  if (row.check === "sensor") return sensorActions(job, row.sensor, hands);
  if (row.check === "look" || row.check === "other") return lookActions(job, suspect, hands);
  if (row.check === "board") {
    const { sensor } = codeOf(job);
    return [hands(inWords("practice.resistor", { sensor: labelOf(job, sensor),
      resistor: formatOhm(standInOhm(job, sensor), 2) }), row.minutes, () => resistorAt(job, suspect))];
  }
  if (row.check === "motor") {
    const own = job.machine.parts[part];
    const half = own.insulation ? row.minutes / 2 : row.minutes;
    const actions = [hands(inWords("practice.windings"), half, () => windingsOf(job, suspect))];
    if (own.insulation && canTest(job, own.insulation.testVolts)) {
      actions.push(hands(inWords("practice.earth", { volts: chargeWords(own.insulation.testVolts) }),
        half, () => earthOf(job, suspect)));
    }
    return actions;
  }
  return [];
}

/** What has no method of the notes is asked, or seen from outside; what is made live needs the power.
 * @param {Job} job @param {number} suspect @param {Hands} hands @returns {Action[]} */
function lookActions(job, suspect, hands) {
  const row = codeOf(job).suspects[suspect];
  const { live, method } = suspectWords(job, suspect);
  const words = method || inWords("practice.other");
  const look = () => (row.check === "look" ? lookAt(job, suspect)
    : { kind: "other", suspect, sensor: "", part: row.part, found: null });
  if (!live && (method || row.part)) return [hands(words, row.minutes, look)];
  if (live && job.done.length) return [];
  return [{ words: live ? inWords("practice.live", { how: words }) : words, minutes: row.minutes,
    run: () => {
      const seen = look();
      spend(job, { act: seen.kind, minutes: row.minutes, suspect, seen, words: seenWords(job, seen) });
    } }];
}

/** @param {Job} job @param {number} volts */
function canTest({ tools, bench }, volts) {
  const tester = bench.testers[tools.tester];
  return Boolean(tester) && tester.voltages.some((row) => row.volts === volts);
}

/** @param {Job} job @param {string} sensor
 * @param {Hands} hands @returns {Action[]} */
function sensorActions(job, sensor, hands) {
  const { curve, pullUpOhm } = job.machine.sensors[sensor].facts;
  const ways = WAYS.filter((way) => way !== ICE || (curve.lowC <= 0 && curve.highC >= 0));
  const actions = ways.map((placement) => hands(inWords(`practice.read-${placement}`),
    minutesToRead(job, sensor, placement), () => readOf(job, { sensor, placement, plugged: false })));
  if (pullUpOhm) {
    actions.push(hands(inWords("practice.read-plugged"), minutesToRead(job, sensor, "held-on"),
      () => readOf(job, { sensor, placement: "held-on", plugged: true })));
  }
  const sister = sisterOf(job, sensor);
  if (sister) {
    actions.push(hands(inWords("practice.read-sister", { sister: labelOf(job, sister) }),
      minutesToRead(job, sensor, SISTER), () => readOf(job, { sensor, placement: SISTER, plugged: false })));
  }
  return actions;
}

/** @param {Job} job @returns {string} what the machine is: on, off, locked, dead */
export function machineState({ done }) {
  const missing = nextSafeStep(done);
  return { isolate: "on", lock: "off", prove: "locked" }[missing] || "dead";
}
