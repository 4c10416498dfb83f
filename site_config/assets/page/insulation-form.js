// The part page's insulation form: a voltage that is too high is refused loudly, before any verdict.

import { nameOf } from "../words/phrase.js";
import { INSULATION_C, judgeInsulation, parseInsulation } from "../numbers/insulation.js";
import { OutOfRange } from "../numbers/out-of-range.js";
import { formatOhm } from "../numbers/rounding.js";
import { el, facts, part } from "./element.js";
import {
  accept, fieldsOf, formOf, openForm, readField, refuse, temperatureField,
} from "./fields.js";
import { sayT } from "./figures.js";
import { keptFor } from "./kept.js";
import { verdictBox } from "./verdict-box.js";

/** @typedef {import("../numbers/insulation.js").LimitCheck} LimitCheck */

/** @param {HTMLFormElement} form */
function insulationForm(form) {
  const told = form.dataset;
  const kept = keptFor(`part.${told.part}`);
  /** @type {{"insulation-shows": HTMLInputElement, "insulation-at": HTMLInputElement,
   *   "test-v": HTMLSelectElement}} */
  const field = fieldsOf(form);
  const answer = part(form, "output");
  const more = part(form, ".ohm-more");
  const clear = part(form, "[data-clear]");
  const mostV = Number(told.testV);
  const at = temperatureField(form, "insulation-at", typed);

  function recall() {
    const before = kept.of("insulation");
    field["insulation-shows"].value = before.reading || "";
    if (before.at !== undefined) at.show(Number(before.at));
    // The voltage is asked anew each time: it is what hurts.
  }

  function typed() {
    const reading = field["insulation-shows"].value.trim();
    let tC;
    try { tC = String(at.read()); } catch (unreadable) { /* said by look */ }
    kept.keep("insulation", reading ? { reading, at: tC } : null);
    look();
  }

  function look() {
    more.replaceChildren();
    answer.replaceChildren();
    [field["test-v"], field["insulation-shows"], field["insulation-at"]]
      .forEach((input) => { accept(input, answer); });
    clear.hidden = !field["insulation-shows"].value.trim();
    const chosen = field["test-v"].selectedOptions[0];
    const volts = Number(chosen.value);
    if (!chosen.value) {
      answer.textContent = `Choose the test voltage first: at most ${mostV}\u00a0V on this part.`;
      return;
    }
    if (volts > mostV) {
      shout(volts);
      return;
    }
    if (!field["insulation-shows"].value.trim()) {
      answer.textContent = "Type what the tester shows after one minute.";
      return;
    }
    let rOhm = readField(field["insulation-shows"], answer, parseInsulation,
      ", or OL for over range");
    if (rOhm === null) return;
    const tC = readField(field["insulation-at"], answer, at.read);
    if (tC === null) return;
    if (chosen.dataset.maxOhm && rOhm > Number(chosen.dataset.maxOhm)) rOhm = Infinity;
    judge(rOhm, tC, volts, Number(chosen.dataset.percent));
  }

  /** @param {number} volts more than the part may be tested with */
  function shout(volts) {
    const box = el("div", "ohm-caution ohm-too-high",
      el("p", "ohm-caution-first", `Stop. ${volts}\u00a0V is too much for this part.`),
      el("p", null, `It is tested with ${mostV}\u00a0V and no more. Set the tester lower, or ` +
        `leave it alone. A reading taken with ${volts}\u00a0V is not judged here: the ` +
        "test itself may have broken the insulation."));
    answer.replaceChildren(box);
    field["test-v"].setAttribute("aria-invalid", "true");
  }

  /** @param {number} rOhm @param {number} tC @param {number} volts
   * @param {number} percent what the tester may be off */
  function judge(rOhm, tC, volts, percent) {
    const limitC = Number(told.limitC);
    let result;
    try {
      result = judgeInsulation(rOhm, {
        // Only a winding is brought to another temperature; the standard says nothing of heaters.
        tC: told.rotating ? tC : limitC, material: told.material || "", percent,
        partMinOhm: Number(told.minOhm), partLimitC: limitC,
      });
    } catch (outside) {
      if (!(outside instanceof OutOfRange)) throw outside;
      refuse(answer, `The part's own limit is noted for ${sayT(outside.value, 0)}, and a correction ` +
        `holds from ${sayT(outside.low, 0)} to ${sayT(outside.high, 0)} only. Look the limit up again.`);
      return;
    }
    const [own, second] = result.checks;
    const standard = told.rotating ? second : null;
    answer.replaceChildren(
      verdictBox(own.state, sayCheck(own, "The part's own limit", result.beyond),
        `Part's limit: ${words(own.state)}`));
    if (result.beyond) answer.append(el("p", null, sayBeyond(own, result.beyond)));
    // Not a verdict of its own: the maker's limit decides, and no red box may shout beside it.
    if (standard) {
      answer.append(el("p", "ohm-hint", `For comparison, IEEE 43: ${words(standard.state)}. ` +
        sayCheck(standard, "Its least for a random-wound machine", result.beyond) +
        (told.hermetic ? " It is not written for hermetic compressors." : "")));
    }
    if (volts < mostV) {
      answer.append(el("p", null, `Tested with ${volts}\u00a0V where ${mostV}\u00a0V is meant: a ` +
        "weak spot may hold at less."));
    }
    const correction = result.beyond ? `none holds at ${sayT(tC, 0)}` : `${told.material}, IEEE 43`;
    more.append(facts([
      ["Read", `${formatOhm(rOhm, 3)} with ${volts}\u00a0V`],
      ["At 40 °C", told.rotating && result.at40Ohm !== null ? formatOhm(result.at40Ohm, 3) : ""],
      ["Correction", told.rotating ? correction : ""],
      ["Tester", percent ? `± ${percent}\u00a0%` : ""],
    ]));
    more.append(el("p", "ohm-hint", told.rotating
      ? "Discharge the winding to earth now. Damp, dirt or liquid refrigerant read low as well: " +
        "clean, dry or warm it, and read again before you condemn it."
      : "Discharge it to earth now. Held against the part's own limit as read; the machine standard " +
        "does not cover it."));
  }

  /** @param {string} state */
  function words(state) { return nameOf("verdict", state).toLowerCase(); }

  /** @param {LimitCheck} own @param {string} beyond cold or hot */
  function sayBeyond(own, beyond) {
    if (own.state === "outside") {
      return `The cold only flatters: at ${sayT(own.limitC, 0)} it would read lower still.`;
    }
    if (own.state === "within") {
      return "Hotter than any correction holds for, and enough already: cooler it would read more.";
    }
    if (beyond === "hot") {
      return `Heat lowers it, and above ${sayT(INSULATION_C.high, 0)} no correction holds. ` +
        "Let it cool, and read again.";
    }
    const start = own.readingOhm === Infinity ? "Nothing speaks against it. But the" : "The";
    return `${start} cold flatters, and below ${sayT(INSULATION_C.low, 0)} no correction holds. ` +
      `Warm it by ${told.hermetic ? "its crankcase heater or by " : ""}standing indoors until it is ` +
      "warm and dry, isolate it again, and read again.";
  }

  /** @param {LimitCheck} check @param {string} whose @param {string} beyond */
  function sayCheck(check, whose, beyond) {
    const at = told.rotating ? ` at ${sayT(check.limitC, 0)}` : "";
    const reads = check.readingOhm === Infinity ? "more than the tester can show"
      : formatOhm(check.readingOhm, 3);
    const brought = beyond ? " as read." : " brought there.";
    return `${whose} is ${formatOhm(check.limitOhm, 2)}${at}; it reads ${reads}` +
      (told.rotating ? brought : ".");
  }

  recall();
  field["insulation-shows"].addEventListener("input", typed);
  field["insulation-at"].addEventListener("input", typed);
  field["test-v"].addEventListener("change", look);
  clear.addEventListener("click", () => {
    field["insulation-shows"].value = "";
    typed();
    field["insulation-shows"].focus();
  });
  openForm(form);
  look();
}

const form = formOf("insulation");
if (form) insulationForm(form);
