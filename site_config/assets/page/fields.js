// Fields that several forms share: temperatures with − and + keys, choices that are remembered.

import { remember, remembered } from "../look.js";
import { parseTemperature } from "../numbers/notation.js";
import { nameOf } from "../words/phrase.js";
import { button, el, part, parts } from "./element.js";
import { shownT, typedT } from "./figures.js";
import { heldKey, selectOnTap } from "./keys.js";
import { unit } from "./unit.js";

/** @param {string} name @returns {?HTMLFormElement} the form of that name, where this page has it */
export function formOf(name) {
  return document.querySelector(`form[data-calc="${name}"]`);
}

/** @param {HTMLFormElement} form
 * @returns {*} its fields by name; each form says of which types its own are */
export function fieldsOf(form) {
  return form.elements;
}

/** Show a form that is ready to answer; it sends nothing anywhere.
 * @param {HTMLFormElement} form */
export function openForm(form) {
  form.addEventListener("submit", (event) => { event.preventDefault(); });
  form.hidden = false;
}

/**
 * Bring a temperature field to life: its keys step it, faster while they are held, its sign key
 * turns it, a tap marks what stands there, and it follows the page's unit.
 * @param {HTMLFormElement} form @param {string} name
 * @param {function(string=): void} changed called after a key changed it, or with "unit"
 * @param {{fromNothing?: ?number}} steps where the keys begin in an empty field, in °C; null for
 *   a field that claims to be measured: there they only lead into it
 * @returns {{read: function(): number, show: function(number): void}} read throws Unreadable
 */
export function temperatureField(form, name, changed, { fromNothing = 20 } = {}) {
  /** @type {HTMLInputElement} */
  const input = fieldsOf(form)[name];
  const sign = part(form, `#${name}-unit`);
  let before = unit.now();

  const read = () => parseTemperature(input.value, unit.now());
  const put = (/** @type {number} */ tC) => { input.value = typedT(tC); };

  function follow() {
    const was = before;
    before = unit.now();
    sign.textContent = `°${before}`;
    if (was === before || !input.value.trim()) return;
    try { put(parseTemperature(input.value, was)); } catch (unreadable) { /* left as typed */ }
  }

  /** @param {number} by */
  function stepBy(by) {
    if (fromNothing === null && !input.value.trim()) {
      input.focus();
      return;
    }
    input.value = stepped(read, by, fromNothing || 0);
    changed();
  }

  function turnSign() {
    input.value = turned(input.value);
    if (/\d/.test(input.value)) changed(); else input.focus();
  }

  /** As a field does by itself where somebody typed and left it. */
  const leave = () => { input.dispatchEvent(new Event("change", { bubbles: true })); };

  const keys = input.parentElement || form;
  parts(keys, "[data-step]").forEach((key) => {
    const by = Number(key.dataset.step);
    heldKey(key, { step: (times) => stepBy(by * times), done: leave });
  });
  parts(keys, "[data-sign]").forEach((key) => {
    key.addEventListener("click", () => {
      turnSign();
      leave();
    });
  });
  selectOnTap(input);
  document.addEventListener("ohm:unit", () => {
    follow();
    changed("unit");
  });
  follow();
  return { read, show: put };
}

/** @param {string} typed a temperature, or nothing yet @returns {string} the other side of zero */
const turned = (typed) => (/^\s*[-−–]/.test(typed) ? typed.replace(/^\s*[-−–]\s*/, "")
  : `−${typed.trim().replace(/^\+/, "")}`);

/** @param {function(): number} read throws Unreadable @param {number} step
 * @param {number} fromNothing °C where nothing can be read
 * @returns {string} a whole step of the unit that is shown, to a whole number */
function stepped(read, step, fromNothing) {
  let tC;
  try { tC = read(); } catch (unreadable) { tC = fromNothing - step; }
  const shown = shownT(tC);
  const next = step > 0 ? Math.floor(shown + 1e-6) + step : Math.ceil(shown - 1e-6) + step;
  return String(next).replace("-", "−");
}

/** Remember a choice on this phone.
 * @param {HTMLSelectElement} select */
export function rememberedChoice(select) {
  const key = `ohm.choice.${select.name}`;
  const before = remembered(key);
  const option = Array.from(select.options).find(({ value }) => value === before);
  if (option) select.value = option.value;
  select.addEventListener("change", () => { remember(key, select.value); });
}

/** Say why there is no answer.
 * @param {HTMLElement} where @param {string} words @param {HTMLElement} [input] */
export function refuse(where, words, input) {
  where.replaceChildren(el("p", "ohm-refused", words));
  if (!input) return;
  input.setAttribute("aria-invalid", "true");
  if (!where.id) where.id = `${input.id}-says`;
  describe(input, where.id, true);
}

/** @param {import("../answers/statement.js").Choice[]} choices
 * @param {function(string): void} chosen with what to type for it
 * @returns {HTMLElement} a key for each way to take what was typed */
export function askWhich(choices, chosen) {
  return el("p", "ohm-keys", ...choices.map(({ id, typed }) =>
    button(nameOf("choice", id), () => chosen(typed), "ohm-key")));
}

/** Type something else into a field, as a hand would; nothing leads back into it.
 * @param {HTMLInputElement} input @param {string} text */
export function retype(input, text) {
  input.value = text;
  input.dispatchEvent(new Event("input", { bubbles: true }));
  if (!text) input.focus();
}

/** Take back what `refuse` said of a field.
 * @param {HTMLElement} input @param {HTMLElement} where */
export function accept(input, where) {
  input.removeAttribute("aria-invalid");
  if (!input.hasAttribute("data-always-says")) describe(input, where.id, false);
}

/** @param {HTMLElement} input @param {string} id of what describes it @param {boolean} on */
function describe(input, id, on) {
  const ids = (input.getAttribute("aria-describedby") || "").split(" ")
    .filter((word) => word && word !== id);
  if (on && id) ids.unshift(id);
  if (ids.length) input.setAttribute("aria-describedby", ids.join(" "));
  else input.removeAttribute("aria-describedby");
}
