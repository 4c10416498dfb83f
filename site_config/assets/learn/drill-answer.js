// How a drill is answered: one tap on a choice, an order of taps, a drawing, or fields to type into.

import {
  markChoice, markDisplay, markOrder, markResistance, markTap, markTemperature,
} from "../answers/drill-marked.js";
import { Refusal } from "../answers/statement.js";
import { button, el } from "../page/element.js";
import { unit } from "../page/unit.js";
import { capital, inWords, phrase, sentence } from "../words/phrase.js";
import { lampOf } from "./drill-lamp.js";
import { sketchOf } from "./drill-sketch.js";

/**
 * @typedef {import("../answers/drill.js").Drill} Drill
 * @typedef {import("../answers/drill-marked.js").Mark} Mark
 * given: the answer in words.
 * @typedef {{mark: Mark, given: string}} Given
 * @typedef {function(Given): void} Done
 * ended: what is still shown, once it is answered.
 * @typedef {{element: HTMLElement, ended: function(): void}} Answering
 */

/** @param {Drill} drill @returns {import("../words/phrase.js").Voice} */
export const voiceOf = ({ digits }) => ({ unit: unit.now(), digits });

/** @param {Drill} drill @param {?import("../answers/drill.js").Grid} curve @param {Done} done
 * @returns {Answering} */
export function answering(drill, curve, done) {
  if (drill.form === "order") return ordering(drill, done);
  if (drill.form === "tap") return tapping(drill, done);
  if (drill.form === "choice") return choosing(drill, done);
  if (drill.form === "display") return reading(drill, done);
  const label = drill.form === "ohm" ? inWords("drills.ohms")
    : inWords("drills.degrees", { unit: unit.now() });
  return typing([label], ([typed]) => ({
    mark: drill.form === "ohm" && curve ? markResistance(typed, drill, curve)
      : markTemperature(typed, drill, unit.now()),
    given: typed,
  }), done);
}

/** @param {Drill} drill @returns {string[]} */
const choicesIn = (drill) => drill.choices.map((choice) => capital(phrase(choice, voiceOf(drill))));

/** @param {Drill} drill @param {Done} done @returns {HTMLElement} */
function choiceKeys(drill, done) {
  return el("div", "ohm-choices", ...choicesIn(drill).map((words, place) =>
    button(words, () => done({ mark: markChoice(place, drill), given: words }))));
}

/** @param {Drill} drill @param {Done} done @returns {Answering} */
function choosing(drill, done) {
  const keys = choiceKeys(drill, done);
  if (!drill.bars.length) return { element: keys, ended() { keys.remove(); } };
  const lamp = lampOf(drill.bars);
  return {
    element: el("div", null, lamp.element, keys),
    ended() { lamp.stop(); keys.remove(); lamp.element.remove(); },
  };
}

/** @param {Drill} drill @param {Done} done @returns {Answering} */
function tapping(drill, done) {
  const sketch = sketchOf(drill.drawing, (pin) => end({ mark: markTap(pin, drill), given: pin }, pin));
  const words = el("details", null, el("summary", null, inWords("drills.in-words")),
    choiceKeys(drill, (given) => end(given, "")));
  let open = true;
  /** @param {Given} given @param {string} pin */
  function end(given, pin) {
    if (!open) return;
    open = false;
    sketch.reveal(drill.pin, given.mark.right ? "" : pin);
    done(given);
  }
  return { element: el("div", null, sketch.element, words), ended() { words.remove(); } };
}

/** @param {Drill} drill @param {Done} done @returns {Answering} */
function ordering(drill, done) {
  /** @type {number[]} */
  let order = [];
  const words = choicesIn(drill);
  const keys = words.map((text, place) => {
    const key = button("", () => {
      if (order.includes(place)) order = order.filter((other) => other !== place);
      else order.push(place);
      show();
    });
    key.append(el("span", "ohm-order-number"), el("span", null, text));
    return key;
  });
  const status = el("p", "ohm-hint");
  status.setAttribute("role", "status");
  const ready = button(inWords("drills.mark-it"), () => {
    done({ mark: markOrder(order, drill), given: order.map((place) => words[place]).join(" → ") });
  }, "ohm-primary");

  function show() {
    keys.forEach((key, place) => {
      const at = order.indexOf(place);
      key.setAttribute("aria-pressed", String(at >= 0));
      (key.firstElementChild || key).textContent = at < 0 ? "" : `${at + 1}.`;
    });
    ready.disabled = order.length < keys.length;
    status.textContent = ready.disabled ? inWords("drills.order-next", { number: order.length + 1 })
      : inWords("drills.order-done");
  }
  show();
  const element = el("div", null, el("div", "ohm-choices", ...keys), status,
    el("div", "ohm-keys", ready));
  return { element, ended() { element.replaceChildren(); } };
}

/** @param {Drill} drill @param {Done} done @returns {Answering} */
function reading(drill, done) {
  const [shown, sign] = drill.shown;
  const display = el("p", "ohm-display", el("span", "ohm-display-figure", shown),
    el("span", "ohm-display-unit", sign));
  const typed = typing([inWords("drills.ohms"), inWords("drills.half")], ([first, second]) => ({
    mark: markDisplay(first, second, drill), given: second ? `${first} ± ${second}` : first,
  }), done);
  typed.element.prepend(el("p", "ohm-hint", inWords("drills.over-hint")));
  return { element: el("div", null, display, typed.element), ended: typed.ended };
}

/** @param {string[]} labels @param {function(string[]): Given} mark throws Refusal
 * @param {Done} done @returns {Answering} */
function typing(labels, mark, done) {
  const form = el("form", "ohm-calc");
  form.autocomplete = "off";
  const refused = el("p", "ohm-refused");
  refused.setAttribute("role", "alert");
  refused.hidden = true;
  const inputs = labels.map((label, i) => {
    const input = el("input");
    input.id = `drill-answer-${i}`;
    input.autocapitalize = "none";
    input.spellcheck = false;
    const name = el("label", null, label);
    name.htmlFor = input.id;
    form.append(el("div", "ohm-field", name, input));
    return input;
  });
  const key = el("button", "ohm-primary", inWords("drills.mark-it"));
  form.append(refused, el("div", "ohm-keys", key));
  form.addEventListener("submit", (event) => { event.preventDefault(); send(); });

  function send() {
    try {
      done(mark(inputs.map(({ value }) => value.trim())));
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      refused.textContent = sentence(error.statement);
      refused.hidden = false;
      inputs[0].focus();
    }
  }
  return { element: form, ended() { form.remove(); } };
}
