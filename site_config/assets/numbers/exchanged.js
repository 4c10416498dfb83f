// Two sensors on each other's plugs: what stands out twice may be one slip. Mirrors kb/numbers/exchanged.py.

import { atRest } from "./at-rest.js";

/** @typedef {import("./at-rest.js").Resting} Resting */

const WRONG = ["stands-out", "off-curve", "open", "short"];

function readingOf({ rOhm, meterHalfOhm, meterSpanOhm }, at) {
  return { ...at, rOhm, meterHalfOhm, meterSpanOhm };
}

/**
 * @param {Array<Object<string, Resting>>} places for each place its sensors
 * @param {{tC?: ?number, thermometerHalfK?: number, shortOhm?: ?number}} [options] as for atRest
 * @returns {Array<string[]>} pairs that would both agree if each had the other's reading
 */
export function exchanged(places, options = {}) {
  const states = (place) => atRest(place, options).standing;
  const before = places.map(states);
  const doubted = [];
  places.forEach((place, at) => Object.keys(place).forEach((name) => {
    if (before[at][name].state !== "agrees") doubted.push({ name, at });
  }));
  const fits = (one, other) => {
    const both = [one, other];
    if (!both.some(({ name, at }) => WRONG.includes(before[at][name].state))) return false;
    const changed = places.map((place) => ({ ...place }));
    changed[one.at][one.name] = readingOf(places[other.at][other.name], places[one.at][one.name]);
    changed[other.at][other.name] = readingOf(places[one.at][one.name], places[other.at][other.name]);
    return [...new Set([one.at, other.at])].every((at) => {
      const after = states(changed[at]);
      return Object.keys(after).every((name) => after[name].state === "agrees" ||
        (before[at][name].state !== "agrees" && !both.some((its) => its.at === at && its.name === name)));
    });
  };
  const found = [];
  doubted.forEach((one, i) => doubted.slice(i + 1).forEach((other) => {
    if (fits(one, other)) found.push([one.name, other.name]);
  }));
  return found;
}
