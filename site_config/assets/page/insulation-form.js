// The part page's insulation form: a voltage that is too high is refused loudly, before any verdict.

import { INSULATION_C, judgeInsulation, parseInsulation } from "../numbers/insulation.js";
import { formatOhm } from "../numbers/rounding.js";
import { nameOf } from "../words/phrase.js";
import { el, facts } from "./element.js";
import { accept, readField, refuse, temperatureField } from "./fields.js";
import { sayT } from "./figures.js";
import { keptFor } from "./kept.js";
import { verdictBox } from "./verdict-box.js";

function insulationForm(form) {
  const told = form.dataset;
  const kept = keptFor(`part.${told.part}`);
  const field = form.elements;
  const answer = form.querySelector("output");
  const more = form.querySelector(".ohm-more");
  const clear = form.querySelector("[data-clear]");
  const mostV = Number(told.testV);
  const at = temperatureField(form, "insulation-at", typed);

  function recall() {
    const before = kept.of("insulation");
    field["insulation-shows"].value = before.reading || "";
    if (before.at !== undefined) { at.show(Number(before.at)); }
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
    [field["test-v"], field["insulation-shows"], field["insulation-at"]].forEach((one) => { accept(one, answer); });
    clear.hidden = !field["insulation-shows"].value.trim();
    const chosen = field["test-v"].selectedOptions[0];
    const volts = Number(chosen.value);
    if (!chosen.value) { answer.textContent = `Choose the test voltage first: at most ${mostV}\u00a0V on this part.`; return; }
    if (volts > mostV) { shout(volts); return; }
    if (!field["insulation-shows"].value.trim()) { answer.textContent = "Type what the tester shows after one minute."; return; }
    let rOhm = readField(field["insulation-shows"], answer, parseInsulation, ", or OL for over range");
    if (rOhm === null) return;
    const tC = readField(field["insulation-at"], answer, at.read);
    if (tC === null) return;
    if (chosen.dataset.maxOhm && rOhm > Number(chosen.dataset.maxOhm)) { rOhm = Infinity; }
    judge(rOhm, tC, volts, Number(chosen.dataset.percent));
  }

  function shout(volts) {
    const box = el("div", "ohm-caution ohm-too-high",
      el("p", "ohm-caution-first", `Stop. ${volts}\u00a0V is too much for this part.`),
      el("p", null, `It is tested with ${mostV}\u00a0V and no more. Set the tester lower, or leave it alone. ` +
        `A reading taken with ${volts}\u00a0V is not judged here: the test itself may have broken the insulation.`));
    answer.replaceChildren(box);
    field["test-v"].setAttribute("aria-invalid", "true");
  }

  function judge(rOhm, tC, volts, percent) {
    const limitC = Number(told.limitC);
    let result;
    try {
      result = judgeInsulation(rOhm, {
        // Only a winding is brought to another temperature; the standard says nothing of heaters.
        tC: told.rotating ? tC : limitC, material: told.material, percent,
        partMinOhm: Number(told.minOhm), partLimitC: limitC,
      });
    } catch (outside) {
      if (outside.name !== "OutOfRange") { throw outside; }
      refuse(answer, `The part's own limit is noted for ${sayT(outside.value, 0)}, and a correction holds from ` +
        `${sayT(outside.low, 0)} to ${sayT(outside.high, 0)} only. Look the limit up again.`);
      return;
    }
    const part = result.checks[0], standard = told.rotating ? result.checks[1] : null;
    answer.replaceChildren(
      verdictBox(part.state, sayCheck(part, "The part's own limit", result.beyond), `Part's limit: ${words(part.state)}`));
    if (result.beyond) { answer.append(el("p", null, sayBeyond(part, result.beyond, tC))); }
    // Not a verdict of its own: the maker's limit decides, and no red box may shout beside it.
    if (standard) {
      answer.append(el("p", "ohm-hint", `For comparison, IEEE 43: ${words(standard.state)}. ` +
        sayCheck(standard, "Its least for a random-wound machine", result.beyond) +
        (told.hermetic ? " It is not written for hermetic compressors." : "")));
    }
    if (volts < mostV) {
      answer.append(el("p", null, `Tested with ${volts}\u00a0V where ${mostV}\u00a0V is meant: a weak spot may hold at less.`));
    }
    more.append(facts([
      ["Read", `${formatOhm(rOhm, 3)} with ${volts}\u00a0V`],
      ["At 40 °C", told.rotating && !result.beyond ? formatOhm(result.at40Ohm, 3) : ""],
      ["Correction", told.rotating ? (result.beyond ? `none holds at ${sayT(tC, 0)}` : `${told.material}, IEEE 43`) : ""],
      ["Tester", percent ? `± ${percent}\u00a0%` : ""],
    ]));
    more.append(el("p", "ohm-hint", told.rotating
      ? "Discharge the winding to earth now. Damp, dirt or liquid refrigerant read low as well: clean, dry or warm it, and read again before you condemn it."
      : "Discharge it to earth now. Held against the part's own limit as read; the machine standard does not cover it."));
  }

  function words(state) { return nameOf("verdict", state).toLowerCase(); }

  function sayBeyond(part, beyond, tC) {
    if (part.state === "outside") { return `The cold only flatters: at ${sayT(part.limitC, 0)} it would read lower still.`; }
    if (part.state === "within") return "Hotter than any correction holds for, and enough already: cooler it would read more.";
    if (beyond === "hot") { return `Heat lowers it, and above ${sayT(INSULATION_C.high, 0)} no correction holds. Let it cool, and read again.`; }
    return `${part.readingOhm === Infinity ? "Nothing speaks against it. But the" : "The"} cold flatters, and below ${sayT(INSULATION_C.low, 0)}` +
      ` no correction holds. Warm it by ${told.hermetic ? "its crankcase heater or by " : ""}` +
      "standing indoors until it is warm and dry, isolate it again, and read again.";
  }

  function sayCheck(check, whose, beyond) {
    return `${whose} is ${formatOhm(check.limitOhm, 2)}${told.rotating ? ` at ${sayT(check.limitC, 0)}` : ""}; it reads ` +
      (check.readingOhm === Infinity ? "more than the tester can show" : formatOhm(check.readingOhm, 3)) +
      (told.rotating ? (beyond ? " as read." : " brought there.") : ".");
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
  form.addEventListener("submit", (event) => { event.preventDefault(); });
  form.hidden = false;
  look();
}

const form = document.querySelector('[data-calc="insulation"]');
if (form) insulationForm(form);
