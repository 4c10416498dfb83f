// The part page's insulation form: a voltage that is too high is refused loudly, before any verdict.

import { answerInsulation } from "../answers/insulation.js";
import { Refusal, statement } from "../answers/statement.js";
import { sentence } from "../words/phrase.js";
import { el, part } from "./element.js";
import { accept, fieldsOf, formOf, openForm, refuse, temperatureField } from "./fields.js";
import { keptFor } from "./kept.js";
import { unit } from "./unit.js";
import { verdictBox } from "./verdict-box.js";

/** @typedef {import("../answers/insulation.js").InsulationAnswer} InsulationAnswer */
/** @typedef {import("../answers/insulation-tested.js").InsulationFacts} InsulationFacts */
/** @typedef {import("../answers/insulation-tested.js").NamedTester} NamedTester */
/** @typedef {import("../answers/statement.js").Statement} Statement */

/** @param {HTMLFormElement} form @param {InsulationFacts} facts the entry's
 * @param {NamedTester[]} testers the notes' */
function insulationForm(form, facts, testers) {
  const kept = keptFor(`part.${form.dataset.part}`);
  const field = fieldsOf(form);
  /** @type {HTMLSelectElement} */
  const volts = field["test-v"];
  /** @type {HTMLInputElement} */
  const shows = field["insulation-shows"];
  /** @type {HTMLInputElement} */
  const atInput = field["insulation-at"];
  /** @type {Object<string, HTMLInputElement|HTMLSelectElement>} */
  const inputs = { volts, reading: shows, at: atInput };
  const answer = part(form, "output");
  const more = part(form, ".ohm-more");
  const clear = part(form, "[data-clear]");
  const at = temperatureField(form, "insulation-at", typed);

  function recall() {
    const before = kept.of("insulation");
    shows.value = before.reading || "";
    if (before.at !== undefined) at.show(Number(before.at));
    // The voltage is asked anew each time: it is what hurts.
  }

  function typed() {
    const reading = shows.value.trim();
    let tC;
    try { tC = String(at.read()); } catch (unreadable) { /* said by look */ }
    kept.keep("insulation", reading ? { reading, at: tC } : null);
    look();
  }

  function look() {
    [answer, more].forEach((place) => place.replaceChildren());
    [volts, shows, atInput].forEach((input) => accept(input, answer));
    clear.hidden = !shows.value.trim();
    const tester = volts.selectedOptions[0].dataset.tester || "";
    try {
      show(answerInsulation({
        part: facts, volts: volts.value, reading: shows.value, at: atInput.value,
        unit: unit.now(), testers, tester,
      }));
    } catch (refused) {
      if (!(refused instanceof Refusal)) throw refused;
      say(refused);
    }
  }

  /** @param {Refusal} refused */
  function say({ statement: why, field: name, missing }) {
    const words = sentence(why, { unit: unit.now() });
    if (missing) answer.textContent = words;
    else if (why.id === "insulation.too-high") shout(why, words);
    else refuse(answer, words, inputs[name]);
  }

  /** @param {Statement} why @param {string} words */
  function shout(why, words) {
    answer.replaceChildren(el("div", "ohm-caution ohm-too-high",
      el("p", "ohm-caution-first", sentence(statement("insulation.stop", why.figures))),
      el("p", null, words)));
    volts.setAttribute("aria-invalid", "true");
  }

  /** @param {InsulationAnswer} found */
  function show(found) {
    const say = (/** @type {Statement} */ finding) => sentence(finding, { unit: found.unit });
    const headline = [found.headline, ...found.beside].map(say).join(" ");
    answer.replaceChildren(
      verdictBox(found.state, headline), ...found.notes.map((note) => el("p", null, say(note))));
    more.replaceChildren(
      ...[found.read, ...found.checks, statement("caution.insulation-charge")]
        .map((check) => el("p", "ohm-hint", say(check))));
  }

  recall();
  [shows, atInput].forEach((input) => input.addEventListener("input", typed));
  volts.addEventListener("change", look);
  clear.addEventListener("click", () => {
    shows.value = "";
    typed();
    shows.focus();
  });
  openForm(form);
  look();
}

const form = formOf("insulation");
if (form) {
  const { facts = "{}", testers = "[]" } = form.dataset;
  insulationForm(form, JSON.parse(facts), JSON.parse(testers));
}
