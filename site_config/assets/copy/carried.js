// What is typed where no job keeps it: it goes along when a newer release loads the page again.

import { parts } from "../page/element.js";
import { unfold } from "../page/folds.js";

const KEY = `ohm.carried ${location.pathname}`;
const FIELDS = "[data-calc=both-ways] [name],[data-calc=compare] [name],[data-calc=stand-in] [name]";

function fields() {
  return parts(document, FIELDS).map((field) => /** @type {HTMLInputElement} */ (field));
}

/** Load this page again, with what is typed in it. */
export function loadAgain() {
  const typed = JSON.stringify(fields().map(({ value }) => value));
  try { sessionStorage.setItem(KEY, typed); } catch (refused) { /* typed again */ }
  location.reload();
}

/** Put back what was typed, once the forms listen. A form that comes late reads it as it comes. */
export function putBack() {
  try {
    const typed = JSON.parse(sessionStorage.getItem(KEY) || "[]");
    sessionStorage.removeItem(KEY);
    const there = fields();
    there.forEach((field, i) => {
      // A later release may have other fields: what stood where cannot be told then.
      if (there.length !== typed.length || field.value === typed[i]) return;
      field.value = typed[i];
      unfold(field);
      ["input", "change"].forEach((kind) => { field.dispatchEvent(new Event(kind)); });
    });
  } catch (refused) { /* nothing was carried */ }
}
