// The curve page's form: resistance from temperature, temperature from resistance, a marker on the chart.
(function (Ohm) {
  "use strict";
  var form = document.querySelector('[data-calc="both-ways"]');
  var grid = form && Ohm.curve(form.dataset.curve);
  if (!grid) { return; }

  var answer = form.querySelector("output");
  var at = Ohm.temperatureField(form, "at", function (why) {
    if (why === "unit" && turned) { fromReading(); } else { fromTemperature(); }
  });
  var reading = form.elements.reading;
  var turned = false; // true while the resistance leads

  function say(tC, rOhm) {
    answer.replaceChildren(
      Ohm.el("strong", "ohm-answer-main",
        turned ? sayT(tC) : Ohm.sayOhm(grid, rOhm)),
      Ohm.el("span", null, " at " + (turned ? Ohm.formatOhm(rOhm) : sayT(tC))));
    if (grid.tol) {
      answer.append(Ohm.el("p", null,
        "A good part reads " + Ohm.sayOhm(grid, grid.low(tC), grid.high(tC)) +
        " there: ± " + Ohm.formatK(grid.tolK(tC), Ohm.unit.now()) + "."));
    }
    mark(tC, rOhm);
  }

  function sayT(tC) { return Ohm.formatT(tC, Ohm.unit.now(), 1); }

  function refuse(words, input) { Ohm.refuse(answer, words, input); mark(NaN, NaN); }

  function acceptBoth() {
    [form.elements.at, reading].forEach(function (one) { Ohm.accept(one, answer); });
  }

  function fromTemperature() {
    turned = false;
    reading.value = "";
    acceptBoth();
    if (!form.elements.at.value.trim()) { refuse("Type a temperature or a resistance."); return; }
    var tC = Ohm.readField(form.elements.at, answer, at.read);
    if (tC === null) { mark(NaN, NaN); return; }
    if (!grid.holds(tC)) {
      refuse("This curve holds from " + sayT(grid.lowC) + " to " + sayT(grid.highC) +
        ". Outside there is no answer.", form.elements.at);
      return;
    }
    say(tC, grid.ohm(tC));
  }

  function fromReading() {
    if (!reading.value.trim()) { fromTemperature(); return; }
    turned = true;
    acceptBoth();
    var rOhm = Ohm.readField(reading, answer, Ohm.parseOhm);
    if (rOhm === null) { mark(NaN, NaN); return; }
    if (!(rOhm >= grid.lowOhm && rOhm <= grid.highOhm)) {
      refuse("This curve runs from " + Ohm.formatOhm(grid.lowOhm) + " to " +
        Ohm.formatOhm(grid.highOhm) + ". " + Ohm.formatOhm(rOhm) + " is off it.", reading);
      return;
    }
    say(grid.tC(rOhm), rOhm);
  }

  /** Set a cross on the chart; not-a-number takes it away. */
  function mark(tC, rOhm) {
    var chart = document.querySelector(".ohm-chart-svg");
    if (!chart) { return; }
    var old = chart.querySelector(".ohm-marker");
    if (old) { old.remove(); }
    if (!isFinite(tC)) { return; }
    var plot = JSON.parse(chart.dataset.plot);
    var x = plot.left + ((tC - plot.low_c) / (plot.high_c - plot.low_c)) * (plot.right - plot.left);
    var part = plot.log
      ? Math.log(rOhm / plot.bottom_ohm) / Math.log(plot.top_ohm / plot.bottom_ohm)
      : (rOhm - plot.bottom_ohm) / (plot.top_ohm - plot.bottom_ohm);
    var y = plot.bottom - part * (plot.bottom - plot.top);
    var path = document.createElementNS("http://www.w3.org/2000/svg", "path");
    path.setAttribute("class", "ohm-marker");
    path.setAttribute("fill", "none");
    path.setAttribute("stroke", "currentColor");
    path.setAttribute("d", "M" + plot.left + " " + y + "H" + plot.right + "M" + x + " " + plot.top +
      "V" + plot.bottom + "M" + (x - 5) + " " + y + "a5 5 0 1 0 10 0a5 5 0 1 0 -10 0");
    chart.append(path);
  }

  form.elements.at.addEventListener("input", fromTemperature);
  reading.addEventListener("input", fromReading);
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  form.hidden = false;
  fromTemperature();
})((globalThis.Ohm = globalThis.Ohm || {}));
