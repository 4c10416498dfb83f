// Find comes when it is first wanted: most pages are read without it, and an old phone waits for
// every byte. The first page has it at once.

import { bringScript, part } from "./element.js";
import { keptQuery } from "./find-back.js";

/** A key with this attribute asks Find to look within a family. */
const WITHIN = "[data-ohm-find-within]";

/** @param {HTMLFormElement} form @param {string[]} addresses of what is brought, in its order */
function findLater(form, addresses) {
  const field = /** @type {HTMLInputElement} */ (part(form, ".ohm-find-field"));
  /** What was pressed before there was anybody to answer.
   * @type {?HTMLElement} */
  let pressed = null;
  let brought = 0;
  let asked = false;

  function bring() {
    if (asked) return;
    if (brought === addresses.length) {
      document.removeEventListener("click", within);
      const key = pressed;
      pressed = null;
      if (key) key.click();
      return;
    }
    asked = true;
    bringScript(addresses[brought], {
      load() {
        asked = false;
        brought += 1;
        bring();
      },
      // The next use tries again.
      fail() { asked = false; },
    });
  }

  /** @param {Event} event */
  function within({ target }) {
    const key = target instanceof Element ? target.closest(WITHIN) : null;
    if (!(key instanceof HTMLElement)) return;
    pressed = key;
    // Now, not once Find is there: some phones open their keypad only for a tap.
    field.focus();
    bring();
  }

  field.addEventListener("focus", bring);
  field.addEventListener("input", bring);
  form.addEventListener("submit", (event) => { event.preventDefault(); });
  document.addEventListener("click", within);
  if (keptQuery() || field.value || document.activeElement === field) bring();
}

/** @type {?HTMLFormElement} */
const form = document.querySelector(".ohm-find");
if (form) {
  const late = Array.from(form.querySelectorAll("[data-later]"));
  const addresses = late.map((place) => place.getAttribute("data-later") || "");
  if (addresses.length) findLater(form, addresses);
}
