// A phone's keypad covers the lower part of the page: what is answered to the one who types moves above it.

import { part } from "./element.js";
import { formOf } from "./fields.js";

/** So much of a phone's screen a keypad may take; not every browser says that it is there. */
const KEYPAD_SHARE = 0.42;
/** Below this many pixels of an answer its verdict has been read. */
const FIRST_LINE_PX = 72;
const AIR_PX = 8;

/** @returns {number} how far down the window something can be seen while somebody types */
function seenDownTo() {
  const { visualViewport: seen } = window;
  const bottom = seen ? seen.offsetTop + seen.height : innerHeight;
  if (!matchMedia("(pointer: coarse)").matches) return bottom;
  return Math.min(bottom, (1 - KEYPAD_SHARE) * screen.height);
}

/** @returns {number} how far down the header covers the page once it is scrolled */
function coveredDownTo() {
  const header = part(document, ".ohm-header");
  const { position, top } = getComputedStyle(header);
  return position === "sticky" ? Math.max(0, header.offsetHeight + parseFloat(top)) : 0;
}

/** Scroll so that the answer's first line can be seen together with the field that is typed in.
 * @param {HTMLElement} answer */
function bringIntoView(answer) {
  const field = document.activeElement;
  const first = answer.querySelector(".ohm-verdict-word") || answer.firstElementChild;
  if (!field || !first) return;
  const { top, height } = first.getBoundingClientRect();
  const over = top + Math.min(height, FIRST_LINE_PX) + AIR_PX - seenDownTo();
  const room = field.getBoundingClientRect().top - coveredDownTo() - AIR_PX;
  const way = Math.min(over, room);
  if (way <= 0) return;
  // At once: a page that sways under a typing thumb is no help.
  const { style } = document.documentElement;
  style.scrollBehavior = "auto";
  scrollBy(0, way);
  style.scrollBehavior = "";
}

/** Keep a form's answer in sight of whoever types in it.
 * @param {HTMLFormElement} form */
export function keepAnswerInView(form) {
  const answer = part(form, "output");
  const bring = () => { requestAnimationFrame(() => { bringIntoView(answer); }); };
  form.addEventListener("input", bring);
  if (!window.visualViewport) return;
  // The keypad comes and goes.
  window.visualViewport.addEventListener("resize", () => {
    if (form.contains(document.activeElement)) bring();
  });
}

["judge", "loop"].forEach((name) => {
  const form = formOf(name);
  if (form) keepAnswerInView(form);
});
