// A drawing to tap on: its pins without their names, each a key that is also reached without a finger.

import { el, part } from "../page/element.js";
import { inWords } from "../words/phrase.js";

/** So many px from a pin still mean it. */
const REACH = 40;

/** @param {Element} pin @returns {string} its name, before that is taken off */
const nameOn = (pin) => (pin.querySelector("text") || pin).textContent || "";

/** A thumb in a glove means the nearest pin, and none where all are far.
 * @param {Map<string, Element>} pins @param {number} x @param {number} y @returns {string} */
function nearest(pins, x, y) {
  let [found, least] = ["", REACH];
  pins.forEach((pin, name) => {
    const { left, top, width, height } = pin.getBoundingClientRect();
    const away = Math.hypot(left + width / 2 - x, top + height / 2 - y);
    if (away < least) [found, least] = [name, away];
  });
  return found;
}

/** Names, titles and the description go: they would give the answer away.
 * @param {string} drawing @param {function(string): void} tapped
 * @returns {{element: HTMLElement, reveal: function(string, string): void}} */
export function sketchOf(drawing, tapped) {
  const original = part(document, `[data-sketch="${drawing}"]`);
  const figure = /** @type {HTMLElement} */ (part(original, "figure").cloneNode(true));
  const picture = figure.querySelector("svg");
  /** @type {Map<string, Element>} */
  const pins = new Map();
  figure.querySelectorAll("g.ohm-pin").forEach((pin, i) => {
    const name = nameOn(pin);
    pins.set(name, pin);
    pin.querySelectorAll("title").forEach((title) => title.remove());
    const label = pin.querySelector("text");
    if (label) label.textContent = "?";
    pin.setAttribute("role", "button");
    pin.setAttribute("tabindex", "0");
    pin.setAttribute("aria-label", inWords("drills.place", { number: i + 1 }));
    pin.addEventListener("keydown", (event) => {
      const key = /** @type {KeyboardEvent} */ (event).key;
      if (key !== "Enter" && key !== " ") return;
      event.preventDefault();
      tapped(name);
    });
  });
  if (picture) {
    picture.setAttribute("role", "group");
    picture.addEventListener("click", (event) => {
      const name = nearest(pins, event.clientX, event.clientY);
      if (name) tapped(name);
    });
    picture.setAttribute("aria-label", inWords("drills.drawing"));
  }
  const caption = part(figure, "figcaption");
  caption.textContent = inWords("drills.tap");
  return {
    element: el("div", "ohm-drill-sketch", figure),
    reveal(right, wrong) {
      pins.forEach((pin, name) => {
        ["role", "tabindex", "aria-label"].forEach((attribute) => pin.removeAttribute(attribute));
        const label = pin.querySelector("text");
        if (label) label.textContent = name === right || name === wrong ? name : "";
        pin.classList.toggle("ohm-pin-here", name === right);
      });
      caption.textContent = right;
    },
  };
}
