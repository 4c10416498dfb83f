// The part page's insulation form: a voltage that is too high is refused loudly, before any verdict.

import { answerInsulation } from "../answers/insulation.js";
import { Refusal, statement } from "../answers/statement.js";
import { parseTemperature } from "../numbers/notation.js";
import { sentence } from "../words/phrase.js";
import { el, part } from "./element.js";
import { lineAt } from "./earlier-line.js";
import { accept, fieldsOf, formOf, openForm, refuse, temperatureField } from "./fields.js";
import { placedTemperature } from "./placed-temperature.js";
import { typedC } from "./typed-c.js";
import { unit } from "./unit.js";
import { verdictBox } from "./verdict-box.js";
import { familiesOf, visitForm } from "./visit-form.js";

/** @typedef {import("../answers/insulation.js").InsulationAnswer} InsulationAnswer */
/** @typedef {import("../answers/insulation-tested.js").InsulationFacts} InsulationFacts */
/** @typedef {import("../answers/insulation-tested.js").NamedTester} NamedTester */
/** @typedef {import("../answers/statement.js").Statement} Statement */
/** @typedef {import("./earlier.js").Measurement} Measurement */
/** @typedef {import("./placed-temperature.js").PlacedTemperature} PlacedTemperature */
/** What the form is made of; at: nothing for a part that is held to its limit as read.
 * @typedef {{form: HTMLFormElement, facts: InsulationFacts, testers: NamedTester[],
 *   volts: HTMLSelectElement, shows: HTMLInputElement, at: ?PlacedTemperature,
 *   beside: Object<string, HTMLInputElement|HTMLSelectElement>}} Insulation beside: what is asked
 *   folded, by the question's names; of air and ten minutes nothing where it is no winding */

/** The question's names of what is asked folded → the fields'. */
const BESIDE = {
  surface: "surface", air: "air", humidity: "humidity", trend: "trend", at15s: "15s", at30s: "30s",
  at10min: "10min",
};

/** @param {HTMLFormElement} form @param {InsulationFacts} facts the entry's
 * @param {NamedTester[]} testers the notes' */
function insulationForm(form, facts, testers) {
  const field = fieldsOf(form);
  const [family] = familiesOf(form);
  const of = form.dataset.part || "";
  /** @type {HTMLSelectElement} */
  const volts = field["test-v"];
  /** @type {HTMLInputElement} */
  const shows = field["insulation-shows"];
  const at = facts.wound ? placedTemperature(form, {
    name: "insulation-at", how: "insulation-how", family, place: `part:${of}`,
    changed: (why) => { if (why === "unit") visit.show(); else visit.typed(); },
  }) : null;
  /** @type {Insulation["beside"]} */
  const beside = {};
  Object.entries(BESIDE).forEach(([name, own]) => {
    const input = field[`insulation-${own}`];
    if (input) beside[name] = input;
  });
  const insulation = { form, facts, testers, volts, shows, at, beside };
  if (beside.air) {
    temperatureField(form, "insulation-air",
      (why) => { if (why === "unit") visit.show(); else visit.typed(); }, { fromNothing: null });
  }
  const visit = visitForm(form, {
    // The voltage is asked anew each time: it is what hurts.
    what: "insulation", of, readings: [volts, shows, ...Object.keys(beside).map((name) => beside[name])],
    typed: () => typedIn(insulation), line, look: () => look(insulation), at,
  });
  openForm(form);
  visit.show();
}

/** @param {Insulation} insulation */
const testerOf = ({ volts }) => volts.selectedOptions[0].dataset.tester || "";

/** @param {Insulation} insulation @returns {?Object<string, any>} what the job keeps of it */
function typedIn(insulation) {
  const { volts, shows, at, beside } = insulation;
  const reading = shows.value.trim();
  if (!reading) return null;
  return {
    ...(at ? typedC(at) : {}), reading, volts: volts.value, tester: testerOf(insulation),
    ...filled(beside), ...airC(beside),
  };
}

/** @param {Insulation["beside"]} beside @returns {{air?: string}} in °C, as the job keeps it */
function airC({ air }) {
  if (!air || !air.value.trim()) return {};
  try {
    return { air: String(parseTemperature(air.value, unit.now())) };
  } catch (unreadable) {
    // What is wrong with it is said beside the field.
    return {};
  }
}

/** @param {Insulation["beside"]} beside @returns {Object<string, string>} what is not empty */
function filled(beside) {
  /** @type {Object<string, string>} */
  const typed = {};
  Object.keys(beside).filter((name) => beside[name].value.trim())
    .forEach((name) => { typed[name] = beside[name].value.trim(); });
  return typed;
}

/** @param {Measurement} read */
function line({ typed }) {
  const { reading, volts } = typed;
  return lineAt(typed, volts
    ? statement("earlier-reading.insulation", { typed: reading, test_volts: Number(volts) })
    : statement("earlier-reading.shown", { typed: reading }));
}

/** @param {Insulation} insulation @returns {string} the verdict, or nothing */
function look(insulation) {
  const { form, facts, testers, volts, shows, at, beside } = insulation;
  const answer = part(form, "output");
  const more = part(form, ".ohm-more");
  [answer, more].forEach((place) => place.replaceChildren());
  const folded = Object.keys(beside).map((name) => beside[name]);
  [volts, shows, ...atField(insulation), ...folded].forEach((input) => accept(input, answer));
  try {
    const found = answerInsulation({
      part: facts, volts: volts.value, reading: shows.value, at: at ? at.text() : "",
      unit: unit.now(), testers, tester: testerOf(insulation), ...filled(beside),
    });
    show(found, { answer, more });
    return found.state;
  } catch (refused) {
    if (!(refused instanceof Refusal)) throw refused;
    sayRefused(refused, { insulation, answer });
    return "";
  }
}

/** @param {Insulation} insulation @returns {HTMLElement[]} where the temperature is typed */
const atField = ({ form, at }) => (at ? [part(form, "#insulation-at")] : []);

/** @param {Refusal} refused @param {{insulation: Insulation, answer: HTMLElement}} where */
function sayRefused({ statement: why, field, missing }, { insulation, answer }) {
  const { volts, shows, beside } = insulation;
  const words = sentence(why, { unit: unit.now() });
  /** @type {Object<string, HTMLElement>} */
  const inputs = {
    volts, reading: shows, at: atField(insulation)[0], air: beside.air, humidity: beside.humidity,
    "at-15s": beside.at15s, "at-30s": beside.at30s, "at-10min": beside.at10min,
  };
  if (missing) answer.textContent = words;
  else if (why.id === "insulation.too-high") shout(why, { words, answer, volts });
  else refuse(answer, words, inputs[field]);
}

/** @param {Statement} why
 * @param {{words: string, answer: HTMLElement, volts: HTMLSelectElement}} where */
function shout(why, { words, answer, volts }) {
  answer.replaceChildren(el("div", "ohm-caution ohm-too-high",
    el("p", "ohm-caution-first", sentence(statement("insulation.stop", why.figures))),
    el("p", null, words)));
  volts.setAttribute("aria-invalid", "true");
}

/** @param {InsulationAnswer} found @param {{answer: HTMLElement, more: HTMLElement}} where */
function show(found, { answer, more }) {
  const say = (/** @type {Statement} */ finding) => sentence(finding, { unit: found.unit });
  const headline = [found.headline, ...found.beside].map(say).join(" ");
  answer.replaceChildren(
    found.state ? verdictBox(found.state, headline) : el("p", null, headline),
    ...found.notes.map((note) => el("p", null, say(note))));
  more.replaceChildren(
    ...[found.read, ...found.checks, statement("caution.insulation-charge")]
      .map((check) => el("p", "ohm-hint", say(check))));
}

const form = formOf("insulation");
if (form) {
  const { facts = "{}", testers = "[]" } = form.dataset;
  insulationForm(form, JSON.parse(facts), JSON.parse(testers));
}
