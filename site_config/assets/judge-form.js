// The sensor page's form: temperature and reading in, verdict out, as you type.
(function (Ohm) {
  "use strict";
  var form = document.querySelector('[data-calc="judge"]');
  var grid = form && Ohm.curve(form.dataset.curve);
  if (!grid) { return; }

  var told = form.dataset;
  var kept = Ohm.kept(told.family);
  var answer = form.querySelector("output");
  var more = form.querySelector(".ohm-more");
  var clear = form.querySelector("[data-clear]");
  var field = form.elements;
  var sensor = { curve: told.curve, allow_k: Number(told.allowK) };
  var pullUp = told.pullUp ? Number(told.pullUp) : null;
  var others = JSON.parse(told.others).reduce(function (found, one) {
    var curve = Ohm.curve(one.curve);
    if (curve) { found[one.curve] = { label: one.label, grid: curve }; }
    return found;
  }, {});
  var at = Ohm.temperatureField(form, "at", function (why) {
    if (why === "unit") { judge(); } else { typed(); }
  });

  /** A reading before the repair and one after it are kept apart. */
  function place() { return told.sensor + (field.when.value === "after" ? "@after" : ""); }

  /** Put back what was typed for this sensor before, here or in the round of its family. */
  function recall() {
    var before = kept.of(place());
    if (before.at !== undefined) { at.show(Number(before.at)); }
    if (before.how) { field.how.value = before.how; }
    field.reading.value = before.reading || "";
    clear.hidden = !before.reading;
  }

  function keep() {
    var reading = field.reading.value.trim();
    var tC = readable(at.read);
    clear.hidden = !reading;
    kept.keep(place(), reading ? {
      at: tC === null ? undefined : String(tC),
      how: field.how.value,
      reading: reading,
      meter: field.meter.value,
      thermometer: field.thermometer.value,
    } : null);
  }

  function readable(read) { try { return read(); } catch (unreadable) { return null; } }

  function typed() { keep(); judge(); }

  function judge() {
    more.replaceChildren();
    [field.at, field.reading].forEach(function (one) { Ohm.accept(one, answer); });
    if (!field.at.value.trim()) { Ohm.refuse(answer, "Type the temperature at the sensor.", field.at); return; }
    var tC = Ohm.readField(field.at, answer, at.read);
    if (tC === null) { return; }
    if (!grid.holds(tC)) {
      Ohm.refuse(answer, "The curve holds from " + t(grid.lowC) + " to " + t(grid.highC) +
        ". Outside there is no answer.", field.at);
      return;
    }
    if (!field.reading.value.trim()) { expect(tC); return; }
    var rOhm = Ohm.readField(field.reading, answer, Ohm.parseReading, ", or OL for over range");
    if (rOhm !== null) { show(tC); }
  }

  function t(tC) { return Ohm.formatT(tC, Ohm.unit.now(), 1); }
  function k(differenceK) { return Ohm.formatK(differenceK, Ohm.unit.now()); }

  /** No reading yet: say what to expect. */
  function expect(tC) {
    var lines = [Ohm.el("p", "ohm-expect", Ohm.el("span", null, "Expect "),
      Ohm.el("strong", "ohm-answer-main", Ohm.sayOhm(grid, grid.ohm(tC))), " at " + t(tC))];
    if (grid.tol) {
      lines.push(Ohm.el("p", null, "A new part reads " + Ohm.sayOhm(grid, grid.low(tC), grid.high(tC)) + "."));
    }
    if (sensor.allow_k > grid.tolK(tC)) {
      var band = Ohm.expectedOhm(grid, tC, sensor.allow_k);
      lines.push(Ohm.el("p", null, "The machine accepts " + Ohm.sayOhm(grid, band.lowOhm, band.highOhm) +
        " (± " + k(sensor.allow_k) + ")."));
    }
    if (pullUp) {
      lines.push(Ohm.el("p", null, "Plugged in and powered, its plug carries " +
        Ohm.formatVolts(Ohm.voltsAtPlug(grid.ohm(tC), { supplyV: Number(told.supply), pullUpOhm: pullUp })) + "."));
    }
    answer.replaceChildren.apply(answer, lines);
  }

  function show(tC) {
    var judged;
    try {
      judged = Ohm.judgeTyped(sensor, {
        at: String(tC), how: field.how.value, reading: field.reading.value,
        meter: field.meter.value, thermometer: field.thermometer.value,
      });
    } catch (outside) {
      // A thermometer has a range of its own.
      Ohm.refuse(answer, outside.message + ".");
      return;
    }
    var verdict = judged.verdict;
    var settle = Ohm.saySettling(verdict);
    var next = nextStep(verdict.verdict);
    var lines = [Ohm.verdictBox(verdict.verdict, Ohm.sayVerdict(verdict, judged))];
    if (settle) { lines.push(Ohm.el("p", "ohm-settle", settle)); }
    if (next) { lines.push(Ohm.el("p", "ohm-next", Ohm.el("strong", null, "Next: "), next)); }
    answer.replaceChildren.apply(answer, lines);
    var also = explained(judged);
    if (also.length) {
      more.append(Ohm.el("p", null, Ohm.el("strong", null, "It would also fit: ")),
        Ohm.el.apply(null, ["ul", null].concat(also)));
    }
    more.append(Ohm.facts([
      ["Expected", Ohm.sayOhm(grid, verdict.lowOhm, verdict.highOhm)],
      ["Reads as at", verdict.tImpliedC === null ? "" : t(verdict.tImpliedC)],
      ["Error", verdict.errorK === null ? "" : k(verdict.errorK)],
      ["Limit", "± " + k(verdict.limitK)],
      ["Uncertainty", verdict.uncertaintyK === null ? "" : "± " + k(verdict.uncertaintyK)],
    ]));
  }

  /** What follows: after a repair a good reading is proved, not looked into. */
  function nextStep(verdict) {
    if (verdict === "undecided") { return null; }
    if (verdict === "within") {
      return field.when.value === "after"
        ? "Clear the code, watch what its page says to watch, and gather the job below." : told.good;
    }
    return { open: told.open, short: told.short }[verdict] || told.bad;
  }

  /** @returns {Element[]} the other explanations that fit, each with its number */
  function explained(judged) {
    if (judged.verdict.verdict === "within" || judged.verdict.verdict === "undecided") { return []; }
    var curves = {};
    Object.keys(others).forEach(function (id) { curves[id] = others[id].grid; });
    return Ohm.explain(grid, judged.measured, { allowK: sensor.allow_k, pullUpOhm: pullUp, others: curves })
      .map(function (one) {
        return Ohm.el("li", null, Ohm.sayExplanation(one, function (id) { return others[id].label; }));
      });
  }

  [field.how, field.meter, field.thermometer].forEach(Ohm.rememberedChoice);
  recall();
  ["at", "reading"].forEach(function (name) { field[name].addEventListener("input", typed); });
  ["how", "meter", "thermometer"].forEach(function (name) {
    field[name].addEventListener("change", typed);
  });
  field.when.forEach(function (way) {
    way.addEventListener("change", function () {
      recall();
      judge();
    });
  });
  clear.addEventListener("click", function () {
    field.reading.value = "";
    typed();
    field.reading.focus();
  });
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  form.hidden = false;
  judge();
})((globalThis.Ohm = globalThis.Ohm || {}));
