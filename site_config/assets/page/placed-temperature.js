// A temperature that somebody took at a place, and how: both empty until given, kept for the job,
// and offered again with their age, never used in silence.

import { keepTemperature, temperatureAt } from "../job/temperatures.js";
import { JOB_EVENT } from "../job/changed.js";
import { nameOf, phrase } from "../words/phrase.js";
import { ageOf } from "./age.js";
import { button, part } from "./element.js";
import { fieldsOf, temperatureField } from "./fields.js";
import { unit } from "./unit.js";

/** @typedef {import("../job/jobs.js").KeptTemperature} KeptTemperature */

/** Stirred ice and water is a temperature of its own. */
const ICE = "ice-water";

/**
 * @typedef {{
 *   read: function(): number, text: function(): string, empty: function(): boolean,
 *   how: function(): string, show: function(number, string=): void,
 *   clear: function(): void}} PlacedTemperature
 *   read: in °C, throws Unreadable; text: as it was typed; how: a placement, or nothing where it is
 *   not said; show: put back what was typed, in °C, and how; clear: empty both, offer again
 */

/**
 * Bring what `placed_field` made to life.
 * @param {HTMLFormElement} form
 * @param {{name: string, how: string, family: string, place: string,
 *   changed: function(string=): void, thermometer?: string,
 *   offers?: function(KeptTemperature): boolean}} field
 *   name, how and thermometer: of the fields; changed is called with "unit" where only that changed;
 *   offers: whether what the job knows may be offered here
 * @returns {PlacedTemperature}
 */
export function placedTemperature(form, {
  name, how, family, place, changed, thermometer, offers = () => true,
}) {
  /** @type {HTMLInputElement} */
  const input = fieldsOf(form)[name];
  /** @type {RadioNodeList} */
  const ways = fieldsOf(form)[how];
  /** @type {NodeListOf<HTMLInputElement>} */
  const keys = form.querySelectorAll(`input[name="${how}"]`);
  const kept = part(form, `#${name}-kept`);
  const probe = () => (thermometer ? fieldsOf(form)[thermometer].value : "");
  let iced = false;
  /** What stood in the field before ice water took its place. */
  let beforeIce = "";
  let takenOver = false;

  const at = temperatureField(form, name, (why) => {
    if (why === "unit") {
      offer();
      changed(why);
    } else {
      typed();
    }
  }, { fromNothing: null });

  function typed() {
    takenOver = false;
    offer();
    changed();
  }

  /** What is given is kept once both are: a temperature says little without its way. Ice water's
   * is the cup's and not the place's: others that rest here are as warm as they were. */
  function keep() {
    if (takenOver || !input.value.trim() || !ways.value || ways.value === ICE) return;
    let tC;
    try { tC = at.read(); } catch (unreadable) { return; }
    keepTemperature(family, place, { t_c: String(tC), how: ways.value, thermometer: probe() });
  }

  function wayChosen() {
    if (ways.value === ICE) {
      if (!iced) beforeIce = input.value;
      at.show(0);
    } else if (iced) {
      input.value = beforeIce;
    }
    iced = ways.value === ICE;
    typed();
    keep();
  }

  /** Show what the job knows of this place, while nothing is typed. */
  function offer() {
    const before = temperatureAt(family, place);
    kept.hidden = !before || !offers(before) || Boolean(input.value.trim() && !takenOver);
    if (!before || kept.hidden) return;
    kept.replaceChildren(takenOver ? inWords(before, "temperature-used")
      : button(inWords(before, "temperature"), () => takeOver(before), "ohm-key"));
  }

  /** @param {KeptTemperature} before @param {string} form @returns {string} */
  function inWords({ t_c: tC, how: way, time }, form) {
    return phrase({
      id: `kept.${form}`,
      figures: { t_c: Number(tC), how: nameOf("placement", way, "short"), age: ageOf(time) },
    }, { unit: unit.now() });
  }

  /** @param {KeptTemperature} before */
  function takeOver(before) {
    show(Number(before.t_c), before.how);
    if (thermometer && before.thermometer) fieldsOf(form)[thermometer].value = before.thermometer;
    takenOver = true;
    offer();
    changed();
  }

  /** @param {number} tC @param {string} [way] */
  function show(tC, way = "") {
    at.show(tC);
    if (way) ways.value = way;
    iced = ways.value === ICE;
    beforeIce = "";
    offer();
  }

  function clear() {
    input.value = "";
    keys.forEach((key) => { key.checked = false; });
    iced = false;
    takenOver = false;
    offer();
  }

  input.addEventListener("input", typed);
  input.addEventListener("change", keep);
  ways.forEach((way) => way.addEventListener("change", wayChosen));
  document.addEventListener(JOB_EVENT, offer);
  offer();
  return {
    read: at.read, text: () => input.value, empty: () => !input.value.trim(), how: () => ways.value,
    show, clear,
  };
}
