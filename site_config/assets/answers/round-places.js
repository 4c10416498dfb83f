// The places of a resting machine: which sensor rests where, and what a thermometer showed there.
// Mirrors kb/answers/round_places.py.

import { LIMITS } from "../catalog.js";
import { Refusal, statement } from "./statement.js";
import { take } from "./tools.js";
import { ICE, typedTemperature } from "./typed.js";

/**
 * @typedef {import("./statement.js").Statement} Statement
 * What an entry says of a sensor at rest; place: where it rests, nothing where nobody noted it.
 * @typedef {{id: string, name: string, curve: import("../numbers/grid.js").Grid, curveId: string,
 *   allowK?: number, place?: string, instructions?: string[]}} RestingSensor
 * What a thermometer showed in one place, as typed; place: its key; placement: how it was taken.
 * @typedef {{place: string, at: string, placement?: string}} PlaceTemperature
 * The temperature of one place as read out of its fields, or why it cannot be used; halfK: of
 * thermometer and placement together; missing: something is only not given yet.
 * @typedef {{place: string, unit: string, tC: ?number, placement: string, halfK: number,
 *   refusal: ?Statement, field: string, missing: boolean}} PlaceReference
 */

/** What the key of a place begins with that belongs to one sensor alone: its id follows. */
export const OWN_PLACE = "sensor:";

/** @param {RestingSensor} sensor @returns {string} the words of its entry, or a place of its own */
export const placeKey = ({ id, place = "" }) => place || `${OWN_PLACE}${id}`;

/** @param {string} place @returns {number} how far its spots may differ, in K: not at all beside one
 *   sensor */
export const spreadHalfK = (place) => (place.startsWith(OWN_PLACE) ? 0 : LIMITS.spread_half_k);

/** @param {string} place @param {RestingSensor[]} sensors of the family
 * @returns {number} how many rest there, read or not */
export const company = (place, sensors) =>
  sensors.filter((sensor) => placeKey(sensor) === place).length;

/** A room is not the outdoors: those that rest with the same words are held against each other.
 * @param {RestingSensor} sensor @param {RestingSensor[]} sensors all that can take part
 * @param {{measured: boolean}} how where its place has a temperature nobody needs company
 * @returns {string} no-place, alone, or nothing where it is held */
export function whyKeptOut({ place = "" }, sensors, { measured }) {
  if (measured) return "";
  if (!place) return "no-place";
  return company(place, sensors) > 1 ? "" : "alone";
}

/** @param {PlaceTemperature} typed
 * @param {{tools: import("./tools.js").Tools, unit: string}} how unit: of a bare temperature
 * @returns {PlaceReference} what cannot be used is refused in its own place */
export function placeReference({ place, at, placement = "" }, { tools, unit }) {
  try {
    const typed = typedTemperature(at, { field: "at", unit });
    if (!placement) {
      throw new Refusal(statement("round.placement-missing"), { field: "placement", missing: true });
    }
    // In a cup a sensor does not rest with the machine.
    if (placement === ICE) {
      throw new Refusal(statement("round.placement-ice"), { field: "placement" });
    }
    const { thermometerHalfK, placementHalfK } = take({ ...tools, placement }, 0, { tC: typed.tC });
    return {
      place, unit: typed.unit, tC: typed.tC, placement,
      halfK: Math.hypot(thermometerHalfK, placementHalfK),
      refusal: null, field: "", missing: false,
    };
  } catch (refused) {
    if (!(refused instanceof Refusal)) throw refused;
    return {
      place, unit, tC: null, placement, halfK: 0, refusal: refused.statement, field: refused.field,
      missing: refused.missing,
    };
  }
}
