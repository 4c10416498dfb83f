// Figures as the page shows them: in the unit that this phone is set to.

import { formatK, formatT } from "../numbers/rounding.js";
import { unit } from "./unit.js";

/** @param {number} tC @param {number} [decimals] 1 @returns {string} such as 7.0 °C */
export function sayT(tC, decimals = 1) {
  return formatT(tC, unit.now(), decimals);
}

/** @param {number} differenceK @returns {string} such as 1.2 K, or in °F; its sign stays */
export function sayK(differenceK) {
  return formatK(differenceK, unit.now());
}

/** @param {number} differenceK @returns {string} how large a difference is, whichever way */
export function sayApart(differenceK) {
  return sayK(Math.abs(differenceK));
}

/** @param {number} tC @returns {number} the number to show for it, in the unit that is chosen */
export function shownT(tC) {
  return unit.now() === "F" ? (tC * 9) / 5 + 32 : tC;
}

/** @param {number} tC @returns {string} to be typed over: in the unit that is chosen, without it */
export function typedT(tC) {
  return String(Math.round(shownT(tC) * 10) / 10).replace("-", "−");
}
