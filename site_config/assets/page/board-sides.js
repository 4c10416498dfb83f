// Beside the meter: volts at the plug, and what the controller itself shows. Both fold away.

import { answerController } from "../answers/controller-figure.js";
import { unratedMeter } from "../answers/live-rating.js";
import { answerPlugVolts } from "../answers/plug-volts.js";
import { Refusal } from "../answers/statement.js";
import { parseTemperature } from "../numbers/notation.js";
import { nameOf, sentence } from "../words/phrase.js";
import { el } from "./element.js";
import { accept, fieldsOf, refuse } from "./fields.js";
import { selectOnTap } from "./keys.js";
import { kit } from "./team.js";
import { unit } from "./unit.js";
import { verdictBox } from "./verdict-box.js";

/** @typedef {import("../answers/statement.js").Statement} Statement */
/** What the form knows already: sensor, temperature, tools, reading.
 * @typedef {import("../answers/controller-figure.js").ControllerQuestion} ControllerQuestion
 * @typedef {Pick<ControllerQuestion, "sensor"|"at"|"unit"|"reading"|"tools"|"shortOhm">} Asked */

/**
 * @param {HTMLFormElement} form
 * @param {{asked: function(): Asked,
 *   keep: function(string, ?Object<string, string>, string): void}} of
 *   keep: what it is, its own fields as typed, the verdict on them; no fields take it back
 */
export function boardSides(form, { asked, keep }) {
  const field = fieldsOf(form);
  const shownBy = form.querySelector("[data-side=controller] output");
  const voltsBy = form.querySelector("[data-side=volts] output");
  const unratedBy = form.querySelector("[data-unrated]");

  /** Without a verdict: what is right for the sensor may still be wrong of the board that feeds it. */
  function keepVolts() {
    const volts = field.volts.value.trim();
    keep("volts", volts ? { volts, supply: field.supply.value.trim() } : null, "");
  }
  /** @param {string} state the verdict, or nothing */
  function keepShown(state) {
    let shown = "";
    try {
      shown = String(parseTemperature(field.shown.value, unit.now()));
    } catch (unreadable) { /* not kept */ }
    keep("controller", shown ? { shown, reading: asked().reading || "" } : null, state);
  }
  /** Before anything is typed: by then the tips have been there. */
  function showUnrated() {
    if (!unratedBy) return;
    const { sensor, tools } = asked();
    const typed = [field.volts.value, field.supply.value];
    const why = unratedMeter(sensor, { tools, kit: kit(), typed });
    unratedBy.replaceChildren(...why ? [verdictBox("unrated", sentence(why))] : []);
  }
  function showVolts() {
    showUnrated();
    if (!(voltsBy instanceof HTMLElement)) return;
    const fields = { volts: field.volts, supply: field.supply };
    answered(voltsBy, fields, field.volts.value, () => {
      const found = answerPlugVolts({
        ...asked(), volts: field.volts.value, supply: field.supply.value,
      });
      const { headline, means, beside, restsOn, next, digits } = found;
      return { state: found.state, headline, others: [means, ...beside, restsOn], next, digits };
    });
  }
  function showController() {
    if (!(shownBy instanceof HTMLElement)) return "";
    return answered(shownBy, { shown: field.shown }, field.shown.value, () => {
      const { state, headline, whose } = answerController({ ...asked(), shown: field.shown.value });
      return { state, headline, others: [], next: whose, digits: 4 };
    });
  }
  function show() {
    showVolts();
    showController();
  }

  if (voltsBy) {
    [field.volts, field.supply].forEach((input) => {
      selectOnTap(input);
      input.addEventListener("input", () => {
        keepVolts();
        showVolts();
      });
    });
  }
  if (shownBy) {
    selectOnTap(field.shown);
    field.shown.addEventListener("input", () => {
      keepShown(showController());
    });
  }
  return {
    show,
    /** Something of the form that both rest on was typed. */
    typed() {
      showVolts();
      const shownSays = showController();
      if (voltsBy && field.volts.value.trim()) keepVolts();
      if (shownBy && field.shown.value.trim()) keepShown(shownSays);
    },
    clear() {
      [field.volts, field.supply, field.shown].forEach((input) => { if (input) input.value = ""; });
      show();
    },
  };
}

/**
 * @param {HTMLElement} where @param {Object<string, HTMLInputElement>} fields @param {string} typed
 * @param {function(): {state: string, headline: Statement, others: Statement[], next: ?Statement,
 *   digits: number}} ask
 * @returns {string} the verdict, or nothing
 */
function answered(where, fields, typed, ask) {
  Object.keys(fields).forEach((name) => accept(fields[name], where));
  where.replaceChildren();
  if (!typed.trim()) return "";
  const voice = { unit: unit.now(), digits: 4 };
  try {
    const { state, headline, others, next, digits } = ask();
    voice.digits = digits;
    where.append(verdictBox(state, sentence(headline, voice)),
      ...others.map((finding) => el("p", null, sentence(finding, voice))));
    if (next) {
      where.append(el("p", "ohm-next", el("strong", null, `${nameOf("form", "next")} `),
        sentence(next, voice)));
    }
    return state;
  } catch (refused) {
    if (!(refused instanceof Refusal)) throw refused;
    refuse(where, sentence(refused.statement, voice),
      refused.missing ? undefined : fields[refused.field]);
    return "";
  }
}
