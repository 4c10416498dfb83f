// A whole machine at rest: which sensors have drifted, and which plugs are exchanged? Mirrors
// kb/numbers/machine_at_rest.py.

import { SPREAD_HALF_K, brokenState, shown, withReadingOf } from "./at-rest.js";
import {
  DRIFTED_SHARE, MISTAKEN_SHARE, PER_K, explanations, logSum, subsets,
} from "./place-at-rest.js";

/** So many machines have two plugs exchanged. Common practice, no source. */
const EXCHANGED_SHARE = 0.03;
/** How much rarer a reading is that no machine at rest shows. Common practice, no source. */
const FAR_SHARE = 0.03;
/** Between these a machine at rest is. Common practice, no source. */
const [COLDEST_C, HOTTEST_C] = [-30, 60];
/** Who is out by less has no exchanged plug either. */
const DOUBTED = 0.01;
/** No sensor is taken to tell its place closer. */
export const LEAST_U_K = 0.05;
/** States of a reading that shows no temperature on any curve. */
const SILENT = ["open", "short", "undecided"];

/**
 * @typedef {import("./at-rest.js").Resting} Resting
 * @typedef {import("./at-rest.js").RestingPlace} RestingPlace
 * @typedef {import("./at-rest.js").Shown} Shown
 * @typedef {import("./place-at-rest.js").Explanation} Explanation
 * One explanation of one place; out: who does not show it, nothing in place of its thermometer.
 * @typedef {{out: string[], pair: string[], weight: number, centreC: ?number, uK: number}} Weighed
 * @typedef {{names: string[], found: Explanation[], logOff: number, logEvidence: number}} PlaceFound
 * Which plugs are exchanged, and the places that this changes, by number.
 * @typedef {{pair: string[], places: Object<number, PlaceFound>}} Scenario
 * @typedef {{pair: string[], weight: number}} PairWeight
 */

/** @param {RestingPlace[]} places @param {?number} shortOhm
 * @returns {{places: Weighed[][], pairs: PairWeight[]}} */
export function weigh(places, shortOhm) {
  const machine = new Machine(places, shortOhm);
  /** @type {Scenario} */
  const asLabelled = { pair: [], places: {} };
  places.forEach((_, at) => { asLabelled.places[at] = machine.place(at, []); });
  const scenarios = [asLabelled, ...exchanges(machine, asLabelled)];
  const logs = scenarios.map((scenario) => logWeight(scenario, asLabelled, machine.pairsCount));
  const every = logSum(logs);
  const weights = logs.map((log) => Math.exp(log - every));
  return {
    places: places.map((_, at) => scenarios.reduce((/** @type {Weighed[]} */ all, scenario, i) =>
      all.concat(weighed(scenario.places[at] || asLabelled.places[at], scenario.pair, weights[i])),
    [])),
    pairs: scenarios.map(({ pair }, i) => ({ pair, weight: weights[i] })).slice(1),
  };
}

/** @param {PlaceFound} place @param {string[]} pair @param {number} weight @returns {Weighed[]} */
const weighed = ({ names, found, logOff, logEvidence }, pair, weight) =>
  found.map((explanation) => ({
    out: explanation.out.map((i) => names[i]), pair,
    weight: weight * Math.exp(logOff + explanation.logWeight - logEvidence),
    centreC: explanation.centreC, uK: explanation.uK,
  }));

/** @param {Scenario} scenario @param {Scenario} asLabelled @param {number} pairs */
function logWeight({ pair, places }, asLabelled, pairs) {
  const gain = Object.keys(places).map(Number).reduce((sum, at) =>
    sum + (places[at].logEvidence - asLabelled.places[at].logEvidence), 0);
  return gain + Math.log(pair.length ? EXCHANGED_SHARE / pairs : 1 - EXCHANGED_SHARE);
}

/** The readings of all places, and what each would show on each sensor's curve. */
class Machine {
  /** @param {RestingPlace[]} places @param {?number} shortOhm */
  constructor(places, shortOhm) {
    this.places = places;
    this.shortOhm = shortOhm;
    /** @type {Object<string, number>} */
    this.at = {};
    /** @type {Object<string, Resting>} */
    this.readings = {};
    /** @type {Object<string, string>} */
    this.states = {};
    places.forEach(({ readings }, at) => Object.keys(readings).forEach((name) => {
      this.at[name] = at;
      this.readings[name] = readings[name];
      this.states[name] = brokenState(readings[name], shortOhm);
    }));
    this.names = Object.keys(this.readings);
    this.pairsCount = Math.max((this.names.length * (this.names.length - 1)) / 2, 1);
  }

  /** @param {number} at @param {string[]} pair @returns {PlaceFound} had these each other's plug */
  place(at, pair) {
    const { readings, tC = null, thermometerHalfK = 0, spreadHalfK = SPREAD_HALF_K } = this.places[at];
    /** @type {string[]} */
    const names = [];
    /** @type {import("./place-at-rest.js").Witness[]} */
    const witnesses = [];
    let logOff = 0;
    Object.keys(readings).forEach((name) => {
      const whose = pair.includes(name) ? pair[1 - pair.indexOf(name)] : name;
      if (SILENT.includes(this.states[whose])) return;
      const shows = this.shown(name, whose, spreadHalfK);
      if (!shows || shows.tImpliedC < COLDEST_C || shows.tImpliedC > HOTTEST_C) {
        logOff += Math.log(FAR_SHARE);
      }
      if (!shows || !shows.limitKnown) {
        logOff += Math.log(PER_K * (shows ? 1 : DRIFTED_SHARE));
        return;
      }
      names.push(name);
      const uK = Math.max(shows.soundUK, LEAST_U_K);
      witnesses.push({ tC: shows.tImpliedC, uK, outShare: DRIFTED_SHARE });
    });
    if (tC !== null) {
      names.push("");
      const uK = Math.max(thermometerHalfK / Math.sqrt(3), LEAST_U_K);
      witnesses.push({ tC, uK, outShare: MISTAKEN_SHARE });
    }
    const found = explanations(witnesses);
    const logEvidence = logOff + logSum(found.map((explanation) => explanation.logWeight));
    return { names, found, logOff, logEvidence };
  }

  /** @param {string} name @param {string} whose reading @param {number} spreadHalfK
   * @returns {?Shown} null where it is off its curve */
  shown(name, whose, spreadHalfK) {
    const own = this.readings[name];
    const reading = name === whose ? own : withReadingOf(own, this.readings[whose]);
    return brokenState(reading, this.shortOhm) ? null : shown(reading, spreadHalfK);
  }
}

/** @param {Machine} machine @param {Scenario} asLabelled
 * @returns {Scenario[]} of which one plug at least is not as it should be */
function exchanges(machine, asLabelled) {
  const { names, states, at } = machine;
  const doubted = names.filter((name) => states[name] ||
    weighed(asLabelled.places[at[name]], [], 1).reduce((sum, { out, weight }) =>
      sum + (out.includes(name) ? weight : 0), 0) > DOUBTED);
  return subsets(names.length, 2).map((pair) => pair.map((i) => names[i]))
    .filter((pair) => pair.some((name) => doubted.includes(name)) &&
      !pair.every((name) => SILENT.includes(states[name])))
    .map((pair) => {
      /** @type {Object<number, PlaceFound>} */
      const places = {};
      pair.forEach((name) => { places[at[name]] = machine.place(at[name], pair); });
      return { pair, places };
    });
}
