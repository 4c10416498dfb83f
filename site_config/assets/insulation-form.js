// The part page's insulation form: a voltage that is too high is refused loudly, before any verdict.
(function (Ohm) {
  "use strict";
  var form = document.querySelector('[data-calc="insulation"]');
  if (!form) { return; }

  var told = form.dataset;
  var kept = Ohm.kept("part." + told.part);
  var field = form.elements;
  var answer = form.querySelector("output");
  var more = form.querySelector(".ohm-more");
  var clear = form.querySelector("[data-clear]");
  var mostV = Number(told.testV);
  var at = Ohm.temperatureField(form, "insulation-at", typed);

  function t(tC) { return Ohm.formatT(tC, Ohm.unit.now(), 0); }

  function recall() {
    var before = kept.of("insulation");
    field["insulation-shows"].value = before.reading || "";
    if (before.at !== undefined) { at.show(Number(before.at)); }
    // The voltage is asked anew each time: it is what hurts.
  }

  function typed() {
    var reading = field["insulation-shows"].value.trim();
    var tC;
    try { tC = String(at.read()); } catch (unreadable) { /* said by look */ }
    kept.keep("insulation", reading ? { reading: reading, at: tC } : null);
    look();
  }

  function look() {
    more.replaceChildren();
    answer.replaceChildren();
    [field["test-v"], field["insulation-shows"], field["insulation-at"]].forEach(function (one) { Ohm.accept(one, answer); });
    clear.hidden = !field["insulation-shows"].value.trim();
    var chosen = field["test-v"].selectedOptions[0];
    var volts = Number(chosen.value);
    if (!chosen.value) { answer.textContent = "Choose the test voltage first: at most " + mostV + "\u00a0V on this part."; return; }
    if (volts > mostV) { shout(volts); return; }
    if (!field["insulation-shows"].value.trim()) { answer.textContent = "Type what the tester shows after one minute."; return; }
    var rOhm = Ohm.readField(field["insulation-shows"], answer, Ohm.parseInsulation, ", or OL for over range");
    if (rOhm === null) { return; }
    var tC = Ohm.readField(field["insulation-at"], answer, at.read);
    if (tC === null) { return; }
    if (chosen.dataset.maxOhm && rOhm > Number(chosen.dataset.maxOhm)) { rOhm = Infinity; }
    judge(rOhm, tC, volts, Number(chosen.dataset.percent));
  }

  function shout(volts) {
    var box = Ohm.el("div", "ohm-caution ohm-too-high",
      Ohm.el("p", "ohm-caution-first", "Stop. " + volts + "\u00a0V is too much for this part."),
      Ohm.el("p", null, "It is tested with " + mostV + "\u00a0V and no more. Set the tester lower, or leave it alone. " +
        "A reading taken with " + volts + "\u00a0V is not judged here: the test itself may have broken the insulation."));
    answer.replaceChildren(box);
    field["test-v"].setAttribute("aria-invalid", "true");
  }

  function judge(rOhm, tC, volts, percent) {
    var limitC = Number(told.limitC);
    var result;
    try {
      result = Ohm.insulation(rOhm, {
        // Only a winding is brought to another temperature; the standard says nothing of heaters.
        tC: told.rotating ? tC : limitC, material: told.material, percent: percent,
        partMinOhm: Number(told.minOhm), partLimitC: limitC,
      });
    } catch (outside) {
      if (outside.name !== "OutOfRange") { throw outside; }
      Ohm.refuse(answer, "The part's own limit is noted for " + t(outside.value) + ", and a correction holds from " +
        t(outside.low) + " to " + t(outside.high) + " only. Look the limit up again.");
      return;
    }
    var part = result.checks[0], standard = told.rotating ? result.checks[1] : null;
    answer.replaceChildren(
      Ohm.verdictBox(part.state, sayCheck(part, "The part's own limit", result.beyond), "Part's limit: " + words(part.state)));
    if (result.beyond) { answer.append(Ohm.el("p", null, sayBeyond(part, result.beyond, tC))); }
    // Not a verdict of its own: the maker's limit decides, and no red box may shout beside it.
    if (standard) {
      answer.append(Ohm.el("p", "ohm-hint", "For comparison, IEEE 43: " + words(standard.state) + ". " +
        sayCheck(standard, "Its least for a random-wound machine", result.beyond) +
        (told.hermetic ? " It is not written for hermetic compressors." : "")));
    }
    if (volts < mostV) {
      answer.append(Ohm.el("p", null, "Tested with " + volts + "\u00a0V where " + mostV + "\u00a0V is meant: a weak spot may hold at less."));
    }
    more.append(Ohm.facts([
      ["Read", Ohm.formatOhm(rOhm, 3) + " with " + volts + "\u00a0V"],
      ["At 40 °C", told.rotating && !result.beyond ? Ohm.formatOhm(result.at40Ohm, 3) : ""],
      ["Correction", told.rotating ? (result.beyond ? "none holds at " + t(tC) : told.material + ", IEEE 43") : ""],
      ["Tester", percent ? "± " + percent + "\u00a0%" : ""],
    ]));
    more.append(Ohm.el("p", "ohm-hint", told.rotating
      ? "Discharge the winding to earth now. Damp, dirt or liquid refrigerant read low as well: clean, dry or warm it, and read again before you condemn it."
      : "Discharge it to earth now. Held against the part's own limit as read; the machine standard does not cover it."));
  }

  function words(state) { return Ohm.VERDICT_WORDS[state][0].toLowerCase(); }

  function sayBeyond(part, beyond, tC) {
    if (part.state === "outside") { return "The cold only flatters: at " + t(part.limitC) + " it would read lower still."; }
    if (part.state === "within") { return "Hotter than any correction holds for, and enough already: cooler it would read more."; }
    if (beyond === "hot") { return "Heat lowers it, and above " + t(Ohm.INSULATION_C.high) + " no correction holds. Let it cool, and read again."; }
    return (part.readingOhm === Infinity ? "Nothing speaks against it. But the" : "The") + " cold flatters, and below " + t(Ohm.INSULATION_C.low) +
      " no correction holds. Warm it by " + (told.hermetic ? "its crankcase heater or by " : "") +
      "standing indoors until it is warm and dry, isolate it again, and read again.";
  }

  function sayCheck(check, whose, beyond) {
    return whose + " is " + Ohm.formatOhm(check.limitOhm, 2) + (told.rotating ? " at " + t(check.limitC) : "") + "; it reads " +
      (check.readingOhm === Infinity ? "more than the tester can show" : Ohm.formatOhm(check.readingOhm, 3)) +
      (told.rotating ? (beyond ? " as read." : " brought there.") : ".");
  }

  recall();
  field["insulation-shows"].addEventListener("input", typed);
  field["insulation-at"].addEventListener("input", typed);
  field["test-v"].addEventListener("change", look);
  clear.addEventListener("click", function () {
    field["insulation-shows"].value = "";
    typed();
    field["insulation-shows"].focus();
  });
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  form.hidden = false;
  look();
})((globalThis.Ohm = globalThis.Ohm || {}));
