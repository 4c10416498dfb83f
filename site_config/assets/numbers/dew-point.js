// Where water condenses out of the air. Mirrors kb/numbers/dew_point.py.

import { LIMITS } from "../catalog.js";

const SLOPE = 17.62;
const C = 243.12;

/** Magnus formula (WMO-No. 8, Sonntag 1990, memory).
 * @param {number} airC from −45 to 60 @param {number} humidityPercent above 0 to 100
 * @returns {number} °C */
export function dewPointC(airC, humidityPercent) {
  const exponent = Math.log(humidityPercent / 100) + (SLOPE * airC) / (C + airC);
  return (C * exponent) / (SLOPE - exponent);
}

/** @param {number} surfaceC @param {number} dewC @returns {string} wet, near or dry */
export function surfaceState(surfaceC, dewC) {
  if (surfaceC <= dewC) return "wet";
  return surfaceC < dewC + LIMITS.dew_margin_k ? "near" : "dry";
}
