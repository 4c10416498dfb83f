// The sensor page's form: temperature and reading in, verdict out, as you type.
(function (Ohm) {
  "use strict";
  var form = document.querySelector('[data-calc="judge"]');
  var grid = form && Ohm.curve(form.dataset.curve);
  if (!grid) { return; }

  var told = form.dataset;
  var kept = Ohm.kept(told.family);
  var answer = form.querySelector("output");
  var clear = form.querySelector("[data-clear]");
  var field = form.elements;
  var allowK = Number(told.allowK);
  var pullUp = told.pullUp ? Number(told.pullUp) : null;
  var others = JSON.parse(told.others).reduce(function (found, one) {
    var curve = Ohm.curve(one.curve);
    if (curve) { found[one.curve] = { label: one.label, grid: curve }; }
    return found;
  }, {});
  var at = Ohm.temperatureField(form, "at", judge);

  /** Put back what was typed for this sensor before. */
  function recall() {
    var before = kept.of(told.sensor);
    if (before.at !== undefined) { at.show(Number(before.at)); }
    if (before.how) { field.how.value = before.how; }
    field.reading.value = before.reading || "";
  }

  function keep(tC) {
    var typed = { at: String(tC), how: field.how.value };
    if (field.reading.value.trim()) { typed.reading = field.reading.value.trim(); }
    typed.meter = field.meter.value;
    typed.thermometer = field.thermometer.value;
    kept.keep(told.sensor, typed.reading ? typed : null);
    clear.hidden = !typed.reading;
  }

  function judge() {
    var tC;
    if (!field.at.value.trim()) { refuse("Type the temperature at the sensor."); return; }
    try { tC = at.read(); } catch (unreadable) { refuse(unreadable.message + "."); return; }
    if (!grid.holds(tC)) {
      refuse("The curve holds from " + t(grid.lowC) + " to " + t(grid.highC) + ". Outside there is no answer.");
      return;
    }
    keep(tC);
    if (!field.reading.value.trim()) { expect(tC); return; }
    var rOhm;
    try { rOhm = Ohm.parseReading(field.reading.value); } catch (unreadable) {
      refuse(unreadable.message + ", or OL for over range.");
      return;
    }
    show(tC, rOhm);
  }

  function refuse(words) { answer.replaceChildren(Ohm.el("p", "ohm-refused", words)); }

  function t(tC) { return Ohm.formatT(tC, Ohm.unit.now(), 1); }
  function k(differenceK) { return Ohm.formatK(differenceK, Ohm.unit.now()); }

  /** No reading yet: say what to expect. */
  function expect(tC) {
    var lines = [Ohm.el("p", "ohm-expect", Ohm.el("span", null, "Expect "),
      Ohm.el("strong", "ohm-answer-main", Ohm.formatOhm(grid.ohm(tC))), " at " + t(tC))];
    if (grid.tol) {
      lines.push(Ohm.el("p", null, "A good part reads " + Ohm.formatOhmSpan(grid.low(tC), grid.high(tC)) + "."));
    }
    if (pullUp) {
      lines.push(Ohm.el("p", null, "Plugged in and powered, its plug carries " +
        Ohm.voltsAtPlug(grid.ohm(tC), { supplyV: Number(told.supply), pullUpOhm: pullUp }).toFixed(2) +
        "\u00a0V."));
    }
    answer.replaceChildren.apply(answer, lines);
  }

  function show(tC, rOhm) {
    var team = globalThis.OhmTeam;
    var measured, verdict;
    try {
      measured = Ohm.taken(rOhm, {
        tC: tC,
        meter: team.meters[field.meter.value],
        thermometer: team.thermometers[field.thermometer.value],
        placement: field.how.value,
      });
      verdict = Ohm.judge(grid, measured, { allowK: allowK, shortOhm: team.short_ohm });
    } catch (outside) {
      // A thermometer has a range of its own.
      refuse(outside.message + ".");
      return;
    }
    var word = Ohm.VERDICT_WORDS[verdict.verdict];
    var box = Ohm.el("div", "ohm-verdict",
      Ohm.el("p", "ohm-verdict-word", shape(word[1]), " " + word[0]),
      Ohm.el("p", "ohm-verdict-why", Ohm.sayVerdict(verdict, { tC: tC, rOhm: rOhm })));
    box.dataset.verdict = verdict.verdict;
    var settle = Ohm.saySettling(verdict);
    var lines = [box];
    if (settle) { lines.push(Ohm.el("p", "ohm-settle", settle)); }
    var next = verdict.verdict === "within" ? told.good : verdict.verdict === "undecided" ? null : told.bad;
    if (next) { lines.push(Ohm.el("p", "ohm-next", Ohm.el("strong", null, "Next: "), next)); }
    var also = explained(measured, verdict);
    if (also.length) {
      lines.push(Ohm.el("p", null, Ohm.el("strong", null, "It would also fit: ")),
        Ohm.el.apply(null, ["ul", null].concat(also)));
    }
    lines.push(Ohm.facts([
      ["Expected", Ohm.formatOhmSpan(verdict.lowOhm, verdict.highOhm)],
      ["Reads as at", verdict.tImpliedC === null ? "" : t(verdict.tImpliedC)],
      ["Error", verdict.errorK === null ? "" : k(verdict.errorK)],
      ["Limit", "± " + k(verdict.limitK)],
      ["Uncertainty", verdict.uncertaintyK === null ? "" : "± " + k(verdict.uncertaintyK)],
    ]));
    answer.replaceChildren.apply(answer, lines);
  }

  function shape(sign) {
    var made = Ohm.el("span", "ohm-verdict-shape", sign);
    made.setAttribute("aria-hidden", "true");
    return made;
  }

  /** @returns {Element[]} the other explanations that fit, each with its number */
  function explained(measured, verdict) {
    if (verdict.verdict === "within" || verdict.verdict === "undecided") { return []; }
    var curves = {};
    Object.keys(others).forEach(function (id) { curves[id] = others[id].grid; });
    return Ohm.explain(grid, measured, { allowK: allowK, pullUpOhm: pullUp, others: curves })
      .map(function (one) { return Ohm.el("li", null, sayExplanation(one)); });
  }

  function sayExplanation(one) {
    var there = t(one.tImpliedC) + ", " + k(Math.abs(one.errorK)) + " off";
    var figures = one.figures;
    switch (one.kind) {
      case "unit-slip":
        return (figures.times > 1 ? "ohms typed where the meter showed kilohms: " : "kilohms typed where the meter showed ohms: ") + there;
      case "factor-ten":
        return "a decimal point misread, ten times too " + (figures.times > 1 ? "low: " : "high: ") + there;
      case "other-curve":
        return "the curve of " + others[figures.curve].label + " (wrong part, or plugs exchanged): " + there;
      case "plugged-in":
        return "still plugged in, " + Ohm.formatOhm(figures.sensorOhm) + " beside the board's " +
          Ohm.formatOhm(figures.pullUpOhm) + ": " + there;
      default:
        return Ohm.formatOhm(figures.seriesOhm, 2) + " in series, as of a bad contact or joint";
    }
  }

  [field.how, field.meter, field.thermometer].forEach(Ohm.rememberedChoice);
  recall();
  ["at", "reading"].forEach(function (name) { field[name].addEventListener("input", judge); });
  ["how", "meter", "thermometer"].forEach(function (name) {
    field[name].addEventListener("change", judge);
  });
  clear.addEventListener("click", function () {
    field.reading.value = "";
    kept.keep(told.sensor, null);
    judge();
    field.reading.focus();
  });
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  form.hidden = false;
  judge();
})((globalThis.Ohm = globalThis.Ohm || {}));
