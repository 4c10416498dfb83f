// The frame of every page: °C or °F, light or dark.

import { look } from "../look.js";
import { inWords } from "../words/phrase.js";
import { part } from "./element.js";
import { unit } from "./unit.js";

/** @param {string} name */
function switchKey(name) { return part(document, `[data-ohm-switch="${name}"]`); }

function sayUnit() {
  const shown = unit.now();
  const key = switchKey("unit");
  key.textContent = `°${shown}`;
  key.setAttribute("aria-label", shown === "C" ? inWords("frame-key.in-c") : inWords("frame-key.in-f"));
}

function sayLook() {
  const dark = look.dark();
  const key = switchKey("look");
  key.textContent = dark ? "☀" : "☾";
  key.setAttribute("aria-label", dark ? inWords("frame-key.light") : inWords("frame-key.dark"));
}

switchKey("unit").addEventListener("click", () => {
  unit.choose(unit.now() === "C" ? "F" : "C");
  sayUnit();
});
switchKey("look").addEventListener("click", () => {
  look.choose(!look.dark());
  sayLook();
});
look.phone.addEventListener("change", sayLook);
sayUnit();
sayLook();
if (unit.now() === "F") unit.say(document);
