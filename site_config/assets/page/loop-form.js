// The loop's form on its sensor's page: one reading of a motor's PTC loop in, a verdict out.

import { answerLoop } from "../answers/loop.js";
import { Refusal, statement } from "../answers/statement.js";
import { capital, nameOf, phrase, sentence } from "../words/phrase.js";
import { el, facts, part } from "./element.js";
import { lineAt } from "./earlier-line.js";
import {
  accept, askWhich, fieldsOf, formOf, openForm, refuse, rememberedChoice, retype,
} from "./fields.js";
import { placedTemperature } from "./placed-temperature.js";
import { teamShortOhm, toolsOf } from "./team.js";
import { typedC } from "./typed-c.js";
import { unit } from "./unit.js";
import { verdictBox } from "./verdict-box.js";
import { familiesOf, visitForm } from "./visit-form.js";

/** @typedef {import("../answers/loop.js").LoopAnswer} LoopAnswer */
/** @typedef {import("../numbers/switching-ptc.js").Loop} Loop */
/** @typedef {import("./earlier.js").Measurement} Measurement */
/** @typedef {import("./placed-temperature.js").PlacedTemperature} PlacedTemperature */
/** What the form is made of.
 * @typedef {{form: HTMLFormElement, loop: Loop, reading: HTMLInputElement, at: PlacedTemperature,
 *   meter: HTMLSelectElement, thermometer: HTMLSelectElement}} LoopForm */

/** @param {HTMLFormElement} form @param {Loop} loop the entry's */
function loopForm(form, loop) {
  const field = fieldsOf(form);
  const [family] = familiesOf(form);
  /** @type {{meter: HTMLSelectElement, thermometer: HTMLSelectElement}} */
  const { meter, thermometer } = field;
  /** @type {HTMLInputElement} */
  const reading = field["loop-reading"];
  const at = placedTemperature(form, {
    name: "loop-at", how: "loop-how", thermometer: "thermometer", family,
    place: form.dataset.place || "",
    changed: (why) => { if (why === "unit") visit.show(); else visit.typed(); },
  });
  const own = { form, loop, reading, at, meter, thermometer };
  const visit = visitForm(form, {
    what: "loop", of: form.dataset.sensor || "", readings: [reading],
    typed: () => typedIn(own), line, look: () => look(own), at,
  });
  [meter, thermometer].forEach((choice) => {
    rememberedChoice(choice);
    choice.addEventListener("change", () => visit.typed());
  });
  openForm(form);
  visit.show();
}

/** @param {LoopForm} own @returns {?Object<string, any>} what the job keeps of it */
function typedIn({ form, reading, at, meter, thermometer }) {
  const shown = reading.value.trim();
  if (!shown) return null;
  return {
    ...typedC(at), reading: shown, meter: meter.value,
    thermometer: at.empty() ? "" : thermometer.value, place: form.dataset.place || "",
  };
}

/** @param {Measurement} read */
function line({ typed }) {
  return lineAt(typed, statement("earlier-reading.shown", { typed: typed.reading }));
}

/** @param {LoopForm} own @returns {string} the verdict, or nothing */
function look({ form, loop, reading, at, meter, thermometer }) {
  const answer = part(form, "output");
  const more = part(form, ".ohm-more");
  [answer, more].forEach((place) => place.replaceChildren());
  const atInput = part(form, "#loop-at");
  [atInput, reading].forEach((input) => accept(input, answer));
  const instructions = JSON.parse(form.dataset.instructions || "{}");
  try {
    const found = answerLoop({
      loop, reading: reading.value, at: at.text(), unit: unit.now(),
      tools: toolsOf({ meter: meter.value, thermometer: thermometer.value, how: at.how() }),
      shortOhm: teamShortOhm() || 0, instructions: Object.keys(instructions),
    });
    answer.replaceChildren(...verdict(found, instructions[found.instruction]));
    more.replaceChildren(figures(found, loop));
    return found.state;
  } catch (refused) {
    if (!(refused instanceof Refusal)) throw refused;
    const words = sentence(refused.statement, { unit: unit.now() });
    if (refused.missing) answer.textContent = words;
    else refuse(answer, words, refused.field === "at" ? atInput : reading);
    if (refused.choices.length) {
      answer.append(askWhich(refused.choices, (instead) => retype(reading, instead)));
    }
    return "";
  }
}

/** @param {LoopAnswer} found @param {string} [next] the entry's own words on what follows
 * @returns {HTMLElement[]} */
function verdict(found, next) {
  const headline = sentence(found.headline, { unit: found.unit });
  return [
    verdictBox(found.state, headline),
    ...(next ? [el("p", "ohm-next", el("strong", null, `${nameOf("form", "next")} `), next)] : []),
  ];
}

/** @param {LoopAnswer} found @param {Loop} loop */
function figures(found, { tripC }) {
  const voice = { unit: found.unit };
  const { uncertaintyOhm } = found.verdict;
  return facts([
    [nameOf("form", "expected"), capital(phrase(found.expected, voice))],
    [nameOf("form", "uncertainty"), uncertaintyOhm === null ? ""
      : phrase(statement("loop.uncertainty", { uncertainty_ohm: uncertaintyOhm }), voice)],
    [nameOf("loop-figure", "trips-at"), phrase(statement("loop.trips-at", { trip_c: tripC }), voice)],
  ]);
}

const form = formOf("loop");
if (form) loopForm(form, JSON.parse(form.dataset.facts || "{}"));
