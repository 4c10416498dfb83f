// The curve page's comparison: another curve at the same temperature, fetched when it is chosen.
(function (Ohm) {
  "use strict";
  var form = document.querySelector('[data-calc="compare"]');
  var grid = form && Ohm.curve(form.dataset.curve);
  if (!grid) { return; }

  var answer = form.querySelector("output");
  var field = form.elements;
  var at = Ohm.temperatureField(form, "compare-at", compare);

  function t(tC) { return Ohm.formatT(tC, Ohm.unit.now(), 1); }
  function k(byK) { return Ohm.formatK(Math.abs(byK), Ohm.unit.now()); }
  function chosen() { return field.other.selectedOptions[0]; }

  /** A page opened from a folder may not fetch, but it may add a script. */
  function bring(option) {
    var script = document.createElement("script");
    script.src = option.dataset.later;
    script.addEventListener("load", compare);
    script.addEventListener("error", function () {
      Ohm.refuse(answer, "That curve is not on this phone. Open the page again when it is.");
    });
    document.head.append(script);
    answer.textContent = "One moment.";
  }

  function compare() {
    Ohm.accept(field["compare-at"], answer);
    var option = chosen();
    if (!option.value) { answer.replaceChildren(); return; }
    var other = Ohm.curve(option.value);
    if (!other) { bring(option); return; }
    var shared = Ohm.sharedRange(grid, other);
    if (!shared) { Ohm.refuse(answer, "The two curves share no temperature."); return; }
    var tC = Ohm.readField(field["compare-at"], answer, at.read);
    if (tC === null) { return; }
    if (tC < shared.lowC || tC > shared.highC) {
      Ohm.refuse(answer, "Both curves hold from " + t(shared.lowC) + " to " + t(shared.highC) +
        ". Outside there is no answer.", field["compare-at"]);
      return;
    }
    say(Ohm.apart(grid, { other: other, tC: tC }), Ohm.mostApart(grid, { other: other }), option.textContent);
  }

  function say(here, most, name) {
    answer.replaceChildren(
      Ohm.el("p", null, Ohm.el("strong", "ohm-answer-main", k(here.byK) + " apart"), " at " + t(here.atC)),
      Ohm.facts([
        ["This curve", Ohm.formatOhm(here.oneOhm)],
        [name, Ohm.formatOhm(here.otherOhm)],
        ["Difference", difference(here)],
        ["A board for this curve", shows(here)],
        ["Most apart", k(most.byK) + " at " + t(most.atC) + ": " +
          Ohm.formatOhm(most.oneOhm) + " and " + Ohm.formatOhm(most.otherOhm)],
      ]));
  }

  function difference(here) {
    return here.otherOhm === here.oneOhm ? "none"
      : Ohm.formatOhm(Math.abs(here.otherOhm - here.oneOhm)) + ", the other " +
        (here.otherOhm > here.oneOhm ? "higher" : "lower");
  }

  function shows(here) {
    return here.byK === 0 ? "shows the truth"
      : "shows " + k(here.byK) + " too " + (here.byK > 0 ? "hot" : "cold") + " with the other";
  }

  field["compare-at"].addEventListener("input", compare);
  field.other.addEventListener("change", compare);
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  form.hidden = false;
  compare();
})((globalThis.Ohm = globalThis.Ohm || {}));
