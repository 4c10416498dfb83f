// A temperature as the job keeps it: in °C as text, whatever unit it was typed in, and how it was taken.

/** @typedef {import("./placed-temperature.js").PlacedTemperature} PlacedTemperature */

/** @param {PlacedTemperature} at @returns {{at?: string, how?: string}} nothing where it is not given */
export function typedC(at) {
  try {
    return { at: String(at.read()), how: at.how() };
  } catch (unreadable) {
    // What is wrong with it is said beside the field.
    return {};
  }
}
