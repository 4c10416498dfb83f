// What is typed where no job keeps it: it goes along when a newer release loads the page again.

import { parts } from "../page/element.js";
import { unfold } from "../page/folds.js";

const KEY = "ohm.carried";
const FIELDS = ["both-ways", "compare", "stand-in"].map((name) => `form[data-calc="${name}"] [name]`).join();

/** @typedef {HTMLInputElement|HTMLSelectElement} Field */

/** @returns {Field[]} */
function fields() {
  return parts(document, FIELDS).map((field) => /** @type {Field} */ (field));
}

/** Load this page again, with what is typed in it. */
export function loadAgain() {
  const typed = [location.pathname, ...fields().map(({ value }) => value)];
  try { sessionStorage.setItem(KEY, JSON.stringify(typed)); } catch (refused) { /* typed again */ }
  location.reload();
}

/** Put back what was typed, once the page's forms listen. A form that comes late reads it as it comes. */
export function putBack() {
  /** @type {string[]} */
  let typed = [];
  try {
    typed = JSON.parse(sessionStorage.getItem(KEY) || "[]");
    sessionStorage.removeItem(KEY);
  } catch (refused) { /* nothing was carried */ }
  const there = fields();
  // Of another page, or of one that has other fields now: what stood where cannot be told.
  if (typed[0] !== location.pathname || typed.length !== there.length + 1) return;
  there.forEach((field, i) => {
    if (field.value === typed[i + 1]) return;
    field.value = typed[i + 1];
    unfold(field);
    ["input", "change"].forEach((kind) => { field.dispatchEvent(new Event(kind, { bubbles: true })); });
  });
}
