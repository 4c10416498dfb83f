// What is typed goes along when a newer release loads the page again: a job keeps only what is whole.

import { parts } from "../page/element.js";
import { unfold } from "../page/folds.js";

/** @typedef {HTMLInputElement|HTMLSelectElement|HTMLTextAreaElement} Field */

const KEY = `ohm.carried ${location.pathname}`;
/** Those that somebody touched since the page came.
 * @type {Set<Field>} */
const touched = new Set();

/** @param {Field} field @returns {field is HTMLInputElement} */
function isTick(field) { return /^(radio|checkbox)$/.test(field.type); }

/** @param {Field} field @returns {string|boolean} */
function typedIn(field) { return isTick(field) ? field.checked : field.value; }

/** @param {string} id @returns {?Field} */
function fieldOf(id) {
  return id ? /** @type {?Field} */ (document.getElementById(id)) : document.querySelector(".ohm-find-field");
}

/** Keep what was typed for the next page at this address. Fields go by their ids; Find's has none. */
export function carry() {
  /** @type {Object<string, string|boolean>} */
  const typed = {};
  touched.forEach((field) => {
    const form = field.form || field;
    [field, ...parts(form, "input,select,textarea")].forEach((each) => {
      const beside = /** @type {Field} */ (each);
      if (beside.type !== "file" && fieldOf(beside.id) === beside) typed[beside.id] = typedIn(beside);
    });
  });
  try { sessionStorage.setItem(KEY, JSON.stringify(typed)); } catch (refused) { /* typed again */ }
}

let leaving = false;
/** Load this page again, with what is typed in it: once, however many say so. */
export function loadAgain() {
  if (leaving) return;
  leaving = true;
  carry();
  location.reload();
}

/** Fill in what the page does not know yet, and let the forms answer. All stands there before the first
 * form reads it; a choice may empty what was typed beside it, so it is done twice.
 * @param {Object<string, string|boolean>} typed what was filled in is taken out of it */
function fill(typed) {
  const ids = Object.keys(typed).filter(fieldOf);
  for (let i = 0; i < 2; i++) {
    /** @type {Field[]} */
    const changed = [];
    ids.forEach((id) => {
      const field = fieldOf(id);
      if (!field || typedIn(field) === typed[id]) return;
      touched.add(field);
      if (isTick(field)) field.checked = Boolean(typed[id]);
      else field.value = String(typed[id]);
      if (typed[id] || field.type !== "radio") changed.push(field);
    });
    changed.forEach((field) => {
      unfold(field);
      // Find would lay its hits over the page: it answers once somebody is at it again.
      if (!field.id) return;
      ["input", "change"].forEach((kind) => {
        field.dispatchEvent(new Event(kind, { bubbles: true }));
      });
    });
  }
  ids.forEach((id) => { delete typed[id]; });
}

/** Put back what was typed, once the forms listen. One that comes as its fold is opened is waited for. */
export function putBack() {
  try {
    /** @type {Object<string, string|boolean>} */
    const typed = JSON.parse(sessionStorage.getItem(KEY) || "{}");
    sessionStorage.removeItem(KEY);
    const { dataset } = document.documentElement;
    const carried = () => {
      // A job goes on with the reading that it has, and takes no second.
      dataset.carried = "";
      fill(typed);
      delete dataset.carried;
      return !Object.keys(typed).length;
    };
    if (carried()) return;
    parts(document, "details script[data-later]").forEach(unfold);
    new MutationObserver((_changes, watch) => { if (carried()) watch.disconnect(); })
      .observe(document.body, { childList: true, subtree: true });
  } catch (refused) { /* nothing was carried */ }
}

document.addEventListener("input", ({ target }) => { touched.add(/** @type {Field} */ (target)); }, true);
