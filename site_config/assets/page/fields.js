// Fields that several forms share: temperatures with − and + keys, choices that are remembered.

import { remember, remembered } from "../look.js";
import { parseTemperature } from "../numbers/notation.js";
import { el, part, parts } from "./element.js";
import { shownT, typedT } from "./figures.js";
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
 * Bring a temperature field to life: its keys step it, and it follows the page's unit.
 * @param {HTMLFormElement} form @param {string} name
 * @param {function(string=): void} changed called after a key stepped it, or with "unit"
 * @returns {{read: function(): number, show: function(number): void}} read throws Unreadable
 */
export function temperatureField(form, name, changed) {
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

  parts(form, `#${name}`).forEach((field) => {
    parts(field.parentElement || form, "[data-step]").forEach((key) => {
      key.addEventListener("click", () => {
        input.value = stepped(read, Number(key.dataset.step));
        changed();
      });
    });
  });
  document.addEventListener("ohm:unit", () => {
    follow();
    changed("unit");
  });
  follow();
  return { read, show: put };
}

/** @param {function(): number} read throws Unreadable @param {number} step
 * @returns {string} a whole step of the unit that is shown, to a whole number; at first 20 °C */
function stepped(read, step) {
  let tC;
  try { tC = read(); } catch (unreadable) { tC = 20 - step; }
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
