// Fields that several forms share: temperatures with − and + keys, choices that are remembered.

import { remember, remembered } from "../look.js";
import { parseTemperature } from "../numbers/notation.js";
import { el } from "./element.js";
import { unit } from "./unit.js";

/**
 * Bring a temperature field to life: its keys step it, and it follows the page's unit.
 * @param {HTMLFormElement} form @param {string} name
 * @param {function(string=): void} changed called after a key stepped it, or with "unit"
 * @returns {{read: function(): number, show: function(number): void}} read throws Unreadable
 */
export function temperatureField(form, name, changed) {
  const input = form.elements[name];
  const sayUnit = form.querySelector(`#${name}-unit`);
  let before = unit.now();

  function read() { return parseTemperature(input.value, unit.now()); }

  function show(tC) {
    const value = unit.now() === "F" ? (tC * 9) / 5 + 32 : tC;
    input.value = String(Math.round(value * 10) / 10).replace("-", "−");
  }

  function follow() {
    const was = before;
    before = unit.now();
    sayUnit.textContent = `°${before}`;
    if (was === before || !input.value.trim()) return;
    try { show(parseTemperature(input.value, was)); } catch (unreadable) { /* left as typed */ }
  }

  form.querySelectorAll(`#${name}`).forEach((one) => {
    one.parentElement.querySelectorAll("[data-step]").forEach((key) => {
      key.addEventListener("click", () => {
        const step = Number(key.dataset.step);
        let now;
        try { now = read(); } catch (unreadable) { now = 20 - step; }
        // A whole step of the unit that is shown, from a whole number.
        const shown = unit.now() === "F" ? (now * 9) / 5 + 32 : now;
        const next = step > 0 ? Math.floor(shown + 1e-6) + step : Math.ceil(shown - 1e-6) + step;
        input.value = String(next).replace("-", "−");
        changed();
      });
    });
  });
  document.addEventListener("ohm:unit", () => { follow(); changed("unit"); });
  follow();
  return { read, show };
}

/** Remember a choice on this phone. @param {HTMLSelectElement} select */
export function rememberedChoice(select) {
  const key = `ohm.choice.${select.name}`;
  const before = remembered(key);
  const there = Array.from(select.options).some((one) => one.value === before);
  if (there) { select.value = before; }
  select.addEventListener("change", () => { remember(key, select.value); });
}

/**
 * Read a field; what cannot be read is said in `where`, and the field points there.
 * @param {HTMLInputElement} input @param {Element} where
 * @param {function(string): number} read throws Unreadable
 * @param {string} [also] what else may be typed
 * @returns {?number} null when it cannot be read
 */
export function readField(input, where, read, also) {
  try {
    const value = read(input.value);
    accept(input, where);
    return value;
  } catch (unreadable) {
    refuse(where, `${unreadable.message + (also || "")}.`, input);
    return null;
  }
}

/** Say why there is no answer. @param {Element} where @param {string} words @param {Element} [input] */
export function refuse(where, words, input) {
  where.replaceChildren(el("p", "ohm-refused", words));
  if (!input) return;
  input.setAttribute("aria-invalid", "true");
  if (!where.id) { where.id = `${input.id}-says`; }
  describe(input, where.id, true);
}

/** Take back what `refuse` said of a field. @param {Element} input @param {Element} where */
export function accept(input, where) {
  input.removeAttribute("aria-invalid");
  if (!input.hasAttribute("data-always-says")) { describe(input, where.id, false); }
}

function describe(input, id, on) {
  const ids = (input.getAttribute("aria-describedby") || "").split(" ").filter((one) => {
    return one && one !== id;
  });
  if (on && id) { ids.unshift(id); }
  if (ids.length) { input.setAttribute("aria-describedby", ids.join(" ")); } else { input.removeAttribute("aria-describedby"); }
}
