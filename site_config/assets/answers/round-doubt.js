// When a round may accuse nobody: the readings of a place fall apart, or its temperature does.
// Mirrors kb/answers/round_doubt.py.

import { atRest } from "../numbers/at-rest.js";
import { spreadHalfK } from "./round-places.js";

/**
 * @typedef {import("../numbers/at-rest.js").Standing} Standing
 * @typedef {{centreC: ?number, byThermometer: boolean, standing: Object<string, Standing>}} AtRest
 * The readings of one place, held; standing: where there is doubt nobody stands out, who did is
 * undecided; doubt: split where no two stand together, temperature where all stand together and
 * none with the thermometer, or nothing; middleC: what they agree on, in doubt of the temperature.
 * @typedef {{rest: AtRest, standing: Object<string, Standing>, doubt: string,
 *   middleC: ?number}} PlaceRest
 */

/** Somebody can only stand out from others that stand together.
 * @param {string} place @param {Object<string, import("../numbers/at-rest.js").Resting>} readings
 * @param {{reference: ?import("./round-places.js").PlaceReference, shortOhm: ?number}} how
 * @returns {PlaceRest} */
export function placeRest(place, readings, { reference, shortOhm }) {
  const tC = reference ? reference.tC : null;
  const rest = atRest(readings, {
    tC, thermometerHalfK: reference ? reference.halfK : 0, spreadHalfK: spreadHalfK(place), shortOhm,
  });
  const certain = { rest, standing: rest.standing, doubt: "", middleC: null };
  if (!all(rest).some(({ state }) => state === "stands-out")) return certain;
  if (tC === null) {
    const unaccused = sound(rest).filter(({ state }) => state !== "stands-out");
    return unaccused.length < 2 ? doubted(rest, "split", null) : certain;
  }
  const together = atRest(readings, { shortOhm });
  const oneAgrees = all(rest).some(({ state }) => state === "agrees");
  if (sound(rest).length < 2 || oneAgrees ||
    sound(together).some(({ state }) => state !== "agrees")) return certain;
  return doubted(rest, "temperature", together.centreC);
}

/** @param {AtRest} rest @returns {Standing[]} */
const all = ({ standing }) => Object.keys(standing).map((sensor) => standing[sensor]);

/** @param {AtRest} rest @returns {Standing[]} */
const sound = (rest) => all(rest).filter(({ tImpliedC }) => tImpliedC !== null);

/** @param {AtRest} rest @param {string} doubt @param {?number} middleC @returns {PlaceRest} */
function doubted(rest, doubt, middleC) {
  /** @type {Object<string, Standing>} */
  const standing = {};
  Object.keys(rest.standing).forEach((sensor) => {
    const stands = rest.standing[sensor];
    standing[sensor] = stands.state === "stands-out" ? { ...stands, state: "undecided" } : stands;
  });
  return { rest, standing, doubt, middleC };
}
