// How each sensor of a machine at rest stands, by all that explains the readings together. Mirrors
// kb/numbers/machine_standing.py.

import { SPREAD_HALF_K, brokenState, shown } from "./at-rest.js";
import { LEAST_U_K, weigh } from "./machine-at-rest.js";
import { expandedK } from "./verdict.js";

/** Less sure than this nobody is named. Common practice, no source. */
export const SURE_AT_REST = 0.95;
/** What differs by less than this share is alike: the earlier one is taken. */
const ALIKE_SHARE = 1e-9;
/** With less than this share of its weight left, a place has no other witness. */
const LEAST_LEFT = 1e-6;

/**
 * @typedef {import("./at-rest.js").RestingPlace} RestingPlace
 * @typedef {import("./machine-at-rest.js").Weighed} Weighed
 * state: agrees, stands-out, suspicious, exchanged, undecided, open, short or off-curve; offK: from
 * its place; out: how likely it has drifted.
 * @typedef {{state: string, tImpliedC: ?number, offK: ?number, limitK: ?number,
 *   uncertaintyK: ?number, out: number}} Standing
 * Two explanations that are too near each other; nothing in place of the thermometer's name.
 * @typedef {{first: string[], second: string[], firstC: number, secondC: number,
 *   beside: string}} Split
 * @typedef {{standing: Object<string, Standing>, centreC: ?number, byThermometer: boolean,
 *   doubtful: boolean, split: ?Split}} PlaceStanding
 * @typedef {{places: PlaceStanding[], exchanged: string[][],
 *   exchangedSure: boolean}} MachineStanding
 * What some explanations say of a place together.
 * @typedef {{centreC: ?number, uK: number, betweenK: number}} Rest
 */

/** @param {RestingPlace[]} places @param {{shortOhm?: ?number}} [options]
 * @returns {MachineStanding} */
export function machineStanding(places, options = {}) {
  const { shortOhm = null } = options;
  const found = weigh(places, shortOhm);
  const every = sum(found.pairs);
  const likeliestPair = Math.max(...found.pairs.map(({ weight }) => weight));
  const exchanged = every < 1 - SURE_AT_REST ? []
    : found.pairs.filter(({ weight }) => weight > likeliestPair * (1 - SURE_AT_REST)).map(({ pair }) => pair);
  const exchangedSure = every >= SURE_AT_REST;
  const inPairs = exchangedSure ? exchanged.reduce((all, pair) => all.concat(pair), []) : [];
  return {
    places: places.map((place, i) => placeStanding(place, found.places[i], inPairs, shortOhm)),
    exchanged, exchangedSure,
  };
}

/** @param {Array<{weight: number}>} weighed */
const sum = (weighed) => weighed.reduce((all, { weight }) => all + weight, 0);

/** @param {Weighed[]} weighed @param {string} name */
const outOf = (weighed, name) => sum(weighed.filter(({ out }) => out.includes(name)));

/** @param {RestingPlace} place @param {Weighed[]} weighed @param {string[]} inPairs
 * @param {?number} shortOhm @returns {PlaceStanding} */
function placeStanding({ readings, tC = null, spreadHalfK = SPREAD_HALF_K }, weighed, inPairs, shortOhm) {
  /** @type {Object<string, Standing>} */
  const standing = {};
  /** @type {Object<string, number>} */
  const ownUK = {};
  Object.keys(readings).forEach((name) => {
    const broken = brokenState(readings[name], shortOhm);
    if (broken) {
      // Off its own curve, it may be on another's.
      const another = broken === "off-curve" && inPairs.includes(name);
      standing[name] = {
        state: another ? "exchanged" : broken, tImpliedC: null, offK: null, limitK: null,
        uncertaintyK: null, out: 0,
      };
      return;
    }
    const shows = shown(readings[name], spreadHalfK);
    ownUK[name] = shows.ownUK;
    standing[name] = standingOf(name, shows, weighed, inPairs);
  });
  const alone = tC === null && Object.keys(ownUK).length < 2 &&
    !inPairs.some((name) => name in readings);
  const { centreC } = restOf(alone ? [] : weighed);
  Object.keys(standing).forEach((name) => {
    // An exchange that might be is nobody to agree with.
    if (centreC !== null || standing[name].state !== "agrees") return;
    standing[name] = { ...standing[name], state: "undecided", offK: null, limitK: null, uncertaintyK: null };
  });
  return {
    standing, centreC, byThermometer: tC !== null,
    doubtful: outOf(weighed, "") >= SURE_AT_REST, split: splitOf(standing, weighed, ownUK),
  };
}

/** @param {Weighed[]} all @returns {Rest} */
function restOf(all) {
  const weighed = all.filter(({ centreC }) => centreC !== null);
  const every = sum(weighed);
  if (!every) return { centreC: null, uK: 0, betweenK: 0 };
  /** @param {function(number, number): number} figure */
  const mean = (figure) => weighed.reduce((total, { weight, centreC, uK }) =>
    total + weight * figure(centreC || 0, uK), 0) / every;
  const middleC = mean((centreC) => centreC);
  return {
    centreC: middleC, uK: Math.sqrt(mean((_, uK) => uK ** 2)),
    betweenK: Math.sqrt(mean((centreC) => (centreC - middleC) ** 2)),
  };
}

/** How a sensor stands against its place.
 * @param {string} name @param {import("./at-rest.js").Shown} shows @param {Weighed[]} weighed
 * @param {string[]} inPairs @returns {Standing} */
function standingOf(name, shows, weighed, inPairs) {
  const { tImpliedC, limitK, ownUK } = shows;
  const swapped = inPairs.includes(name);
  const out = outOf(weighed, name);
  const { centreC, uK, betweenK } = restOf(othersOf(name, shows, { weighed, out, inPairs }));
  if (centreC === null) {
    return {
      state: swapped ? "exchanged" : "undecided", tImpliedC, offK: null, limitK: null,
      uncertaintyK: null, out,
    };
  }
  const offK = tImpliedC - centreC;
  const uncertaintyK = expandedK(ownUK, uK, betweenK);
  let state = stateOf(Math.abs(offK), shows, uncertaintyK, out);
  // The others do not know themselves how warm it is there.
  if (state === "agrees" && expandedK(betweenK) > Math.max(limitK, expandedK(ownUK, uK))) {
    state = "undecided";
  }
  return { state: swapped ? "exchanged" : state, tImpliedC, offK, limitK, uncertaintyK, out };
}

/** Its place as the others have it: where it is hardly out, by what explains all of them; where it
 * may be, by what has it out. What has plugs exchanged counts where some surely are, and only there.
 * @param {string} name @param {import("./at-rest.js").Shown} shows
 * @param {{weighed: Weighed[], out: number, inPairs: string[]}} found @returns {Weighed[]} */
function othersOf(name, shows, { weighed, out, inPairs }) {
  const known = weighed.filter(({ centreC, pair }) =>
    centreC !== null && !pair.length === !inPairs.length);
  if (inPairs.includes(name)) return known.filter(({ pair }) => pair.includes(name));
  if (out >= 1 - SURE_AT_REST) return known.filter((found) => found.out.includes(name));
  if (!shows.limitKnown) return known;
  return known.filter((found) => !found.out.includes(name) && !found.pair.includes(name))
    .map((found) => {
      const [own, whole] = [Math.max(shows.soundUK, LEAST_U_K) ** -2, found.uK ** -2];
      const left = whole - own;
      // It was the only one.
      if (left <= whole * LEAST_LEFT) return { ...found, centreC: null };
      const centreC = ((found.centreC || 0) * whole - shows.tImpliedC * own) / left;
      return { ...found, centreC, uK: left ** -0.5 };
    });
}

/** @param {number} sizeK @param {import("./at-rest.js").Shown} shows @param {number} uncertaintyK
 * @param {number} out */
function stateOf(sizeK, { limitK, limitKnown }, uncertaintyK, out) {
  if (sizeK <= Math.max(limitK, uncertaintyK)) return "agrees";
  if (out < SURE_AT_REST || !limitKnown) return "undecided";
  return sizeK > limitK + uncertaintyK ? "stands-out" : "suspicious";
}

/** @param {Object<string, Standing>} standing @param {Weighed[]} weighed
 * @param {Object<string, number>} ownUK
 * @returns {?Split} the two explanations that somebody is torn between */
function splitOf(standing, weighed, ownUK) {
  const torn = Object.keys(standing).map((name) => standing[name])
    .some(({ state, out }) => state === "undecided" && out >= 1 - SURE_AT_REST && out < SURE_AT_REST);
  const ways = waysOf(weighed);
  if (!torn || !ways.length) return null;
  const first = likeliest(ways);
  const near = ways.filter(({ out, weight }) => weight > first.weight * (1 - SURE_AT_REST) &&
    out.some((name) => !first.out.includes(name)) && first.out.some((name) => !out.includes(name)));
  if (!near.length) return null;
  const second = likeliest(near);
  const between = Object.keys(ownUK)
    .filter((name) => first.out.includes(name) !== second.out.includes(name));
  const beside = between.reduce((sharpest, name) =>
    (!sharpest || ownUK[name] < ownUK[sharpest] * (1 - ALIKE_SHARE) ? name : sharpest), "");
  return {
    first: first.out, second: second.out, firstC: first.centreC || 0, secondC: second.centreC || 0,
    beside,
  };
}

/** @param {Weighed[]} ways */
const likeliest = (ways) => ways.reduce((most, way) =>
  (way.weight > most.weight * (1 + ALIKE_SHARE) ? way : most));

/** @param {Weighed[]} weighed @returns {Weighed[]} who may be out, each way once */
function waysOf(weighed) {
  /** @type {Map<string, Weighed>} */
  const ways = new Map();
  weighed.filter(({ centreC, out }) => centreC !== null && out.length).forEach((found) => {
    const key = JSON.stringify(found.out);
    const known = ways.get(key);
    ways.set(key, known ? { ...known, weight: known.weight + found.weight } : found);
  });
  return Array.from(ways.values());
}
