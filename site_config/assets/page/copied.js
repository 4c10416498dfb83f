// Hand a text over: copied where that is allowed, and shown, to read or select.

import { inWords } from "../words/phrase.js";
import { el } from "./element.js";
import { toClipboard } from "./hand-out.js";

/**
 * Show a text, selected, and copy it if that is allowed.
 * @param {HTMLElement} place @param {string} text @param {string} label what the text is
 */
export function copyText(place, text, label) {
  const area = el("textarea", "ohm-copied-text");
  const says = el("p", "ohm-copied-says");
  const select = () => {
    area.focus();
    area.select();
  };
  says.setAttribute("role", "status");
  area.readOnly = true;
  area.rows = Math.min(14, text.split("\n").length);
  area.value = text;
  area.setAttribute("aria-label", label);
  area.addEventListener("focus", () => { area.select(); });
  place.replaceChildren(says, area);
  place.hidden = false;
  select();
  toClipboard(text, select).then((copied) => {
    says.textContent = copied ? inWords("copied.done", { label }) : inWords("copied.by-hand");
  });
}
