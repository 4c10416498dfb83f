// A slip: tell the keeper that something on this page is wrong, as `ohmfolio case add` takes it.
// Nothing is sent; the text that stands on the page is filled in, and copied or saved.

import { statement } from "../answers/statement.js";
import { nameOf, sentence } from "../words/phrase.js";
import { today } from "./clock.js";
import { button, el, part } from "./element.js";
import { copyFrom, saveFile } from "./hand-out.js";
import { quoted } from "./yaml-text.js";

/** @param {string} name @param {Object<string, *>} [figures] @returns {string} */
const line = (name, figures) => sentence(statement(`slip.${name}`, figures));

/** @param {string} name @returns {HTMLInputElement|HTMLTextAreaElement} */
function field(name) {
  const input = el(name === "by" ? "input" : "textarea");
  input.id = `slip-${name}`;
  input.autocomplete = "off";
  return input;
}

/** @param {HTMLElement} fold */
function slipForm(fold) {
  const text = part(fold, "pre");
  const blank = text.textContent || "";
  /** @type {Object<string, HTMLInputElement|HTMLTextAreaElement>} */
  const inputs = { wrong: field("wrong"), better: field("better"), by: field("by") };
  const says = el("p");
  const { release } = globalThis.Ohm;
  // A file of one family has no release of its own to name.
  const seen = release ? `release: ${quoted(release.number + " " + release.name)}\n` : "";

  function slip() {
    const typed = (/** @type {string} */ name) => inputs[name].value.trim();
    text.textContent = blank.replace(/^(\w+): …\n/gm, (unsaid, name) => {
      if (name === "on") return `on: ${today()}\n`;
      if (typed(name)) return `${name}: ${quoted(typed(name))}\n`;
      return name === "better" ? "" : unsaid;
    }) + seen;
    const whole = typed("wrong") !== "" && typed("by") !== "";
    keys.forEach((key) => { key.disabled = !whole; });
    says.textContent = whole ? "" : line("missing");
  }

  function save() {
    const id = (/\/(\S+)/.exec(blank) || ["", ""])[1];
    const time = new Date().toTimeString().slice(0, 5).replace(":", "");
    const file = `slip-${id}-${today()}-${time}.yaml`;
    saveFile(new File([text.textContent || ""], file, { type: "text/yaml" }));
    says.textContent = line("saved", { file });
  }

  const keys = [
    button(nameOf("slip-key", "copy"), () => {
      copyFrom(text).then((copied) => { says.textContent = line(copied ? "copied" : "marked"); });
    }, "ohm-key"),
    button(nameOf("slip-key", "save"), save, "ohm-key"),
  ];
  const form = el("form", "ohm-calc", ...Object.keys(inputs).map((name) => {
    const label = el("label", null, nameOf("slip-field", name));
    label.htmlFor = inputs[name].id;
    return el("div", "ohm-field", label, inputs[name]);
  }));
  says.setAttribute("role", "status");
  form.addEventListener("submit", (event) => { event.preventDefault(); });
  form.addEventListener("input", slip);
  text.before(el("p", "ohm-hint", line("private")), form, el("p", "ohm-keys", ...keys), says);
  slip();
}

const fold = document.querySelector(".ohm-slip");
if (fold instanceof HTMLElement) slipForm(fold);
