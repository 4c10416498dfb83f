// Show a verdict in shape, word and colour together: a box for one reading, a badge for a row.

import { nameOf } from "../words/phrase.js";
import { el } from "./element.js";

/** State of a sensor among the others → the verdict whose shape and colour it takes.
 * @type {Object<string, string>} */
const AS = {
  agrees: "within", "stands-out": "outside", suspicious: "undecided", exchanged: "undecided",
  unrated: "outside",
};

/** @param {string} sign */
function shape(sign) {
  const made = el("span", "ohm-verdict-shape", sign);
  made.setAttribute("aria-hidden", "true");
  return made;
}

/** @param {string} state a verdict or a standing @returns {string} its word */
export function verdictWord(state) { return nameOf("verdict", state); }

/**
 * @param {string} state a verdict or a standing @param {string} why one sentence
 * @param {string} [word] in place of the usual one
 * @returns {HTMLElement}
 */
export function verdictBox(state, why, word) {
  const as = AS[state] || state;
  const box = el("div", "ohm-verdict",
    el("p", "ohm-verdict-word", shape(nameOf("verdict", as, "shape")), ` ${word || verdictWord(state)}`),
    el("p", "ohm-verdict-why", why));
  box.dataset.verdict = as;
  return box;
}

/** @param {string} state a verdict or a standing @returns {HTMLElement} small enough for a row */
export function verdictBadge(state) {
  const as = AS[state] || state;
  const made = el("span", "ohm-badge", shape(nameOf("verdict", as, "shape")), ` ${verdictWord(state)}`);
  made.dataset.verdict = as;
  return made;
}
