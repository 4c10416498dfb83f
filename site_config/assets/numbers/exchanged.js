// Two sensors on each other's plugs: what stands out twice may be one slip. Mirrors
// kb/numbers/exchanged.py.

import { atRest } from "./at-rest.js";

/** @typedef {import("./at-rest.js").Resting} Resting */
/** A sensor that does not agree, and the number of its place.
 * @typedef {{name: string, at: number}} Doubted */
/** The sensors of one place, that should agree with each other; the rest as for atRest.
 * @typedef {{readings: Object<string, Resting>, tC?: ?number, thermometerHalfK?: number,
 *   spreadHalfK?: number}} RestingPlace */

const WRONG = ["stands-out", "off-curve", "open", "short"];

/** @param {Resting} from whose reading @param {Resting} at whose place
 * @returns {Resting} */
function readingOf({ rOhm, meterHalfOhm, meterSpanOhm }, at) {
  return { ...at, rOhm, meterHalfOhm, meterSpanOhm };
}

/**
 * @param {RestingPlace[]} places
 * @param {{shortOhm?: ?number}} [options] as for atRest
 * @returns {Array<string[]>} pairs that would both agree if each had the other's reading
 */
export function exchanged(places, options = {}) {
  const states = (/** @type {RestingPlace} */ { readings, ...place }) =>
    atRest(readings, { ...place, ...options }).standing;
  const before = places.map(states);
  /** @type {Doubted[]} */
  const doubted = [];
  places.forEach(({ readings }, at) => Object.keys(readings).forEach((name) => {
    if (before[at][name].state !== "agrees") doubted.push({ name, at });
  }));
  /** @param {Doubted} first @param {Doubted} second */
  const fits = (first, second) => {
    const both = [first, second];
    if (!both.some(({ name, at }) => WRONG.includes(before[at][name].state))) return false;
    const changed = places.map(({ readings }) => ({ ...readings }));
    const [firstRead, secondRead] = both.map(({ name, at }) => places[at].readings[name]);
    changed[first.at][first.name] = readingOf(secondRead, firstRead);
    changed[second.at][second.name] = readingOf(firstRead, secondRead);
    return [...new Set([first.at, second.at])].every((at) => {
      const after = states({ ...places[at], readings: changed[at] });
      return Object.keys(after).every((name) => after[name].state === "agrees" ||
        (before[at][name].state !== "agrees" &&
          !both.some((changing) => changing.at === at && changing.name === name)));
    });
  };
  /** @type {Array<string[]>} */
  const found = [];
  doubted.forEach((first, i) => doubted.slice(i + 1).forEach((second) => {
    if (fits(first, second)) found.push([first.name, second.name]);
  }));
  return found;
}
