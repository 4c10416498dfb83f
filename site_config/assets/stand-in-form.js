// Stand-in resistors: what to plug in place of a sensor, and what the board should then show.
(function (Ohm) {
  "use strict";
  var form = document.querySelector('[data-calc="stand-in"]');
  var grid = form && Ohm.curve(form.dataset.curve);
  if (!grid) { return; }

  var BEST = 3;
  var WIRED = { series: " one after the other", parallel: " side by side" };
  var told = form.dataset;
  var answer = form.querySelector("output");
  var field = form.elements;
  var at = Ohm.temperatureField(form, "stand-at", look);

  function t(tC) { return Ohm.formatT(tC, Ohm.unit.now(), 1); }

  function look() {
    Ohm.accept(field["stand-at"], answer);
    if (!field["stand-at"].value.trim()) { Ohm.refuse(answer, "Type a temperature.", field["stand-at"]); return; }
    var tC = Ohm.readField(field["stand-at"], answer, at.read);
    if (tC === null) { return; }
    if (!grid.holds(tC)) {
      Ohm.refuse(answer, "The curve holds from " + t(grid.lowC) + " to " + t(grid.highC) +
        ". Outside there is no answer.", field["stand-at"]);
      return;
    }
    var found = Ohm.standIns(grid, { tC: tC, series: field.series.value, best: BEST });
    answer.replaceChildren(
      Ohm.el("p", null, "The sensor itself would be " + Ohm.formatOhm(grid.ohm(tC)) + " there."),
      list("One resistor", found.singles), list("Two resistors", found.pairs));
  }

  function list(title, standIns) {
    if (!standIns.length) {
      return Ohm.el("p", null, title + ": none in this series reaches it.");
    }
    return Ohm.el("div", null, Ohm.el("h3", null, title),
      Ohm.el.apply(null, ["ul", "ohm-stand-ins"].concat(standIns.map(one))));
  }

  function one(standIn) {
    var off = Ohm.formatK(standIn.errorK, Ohm.unit.now());
    var line = Ohm.el("li", null,
      Ohm.el("strong", null, standIn.partsOhm.map(function (r) { return plain(r); }).join(" and ")),
      (WIRED[standIn.wired] || "") + ": shows " + t(standIn.showsC) + " (" + (standIn.errorK > 0 ? "+" : "") + off + ")");
    if (told.pullUp) {
      line.append(", " + Ohm.formatVolts(Ohm.voltsAtPlug(standIn.rOhm, {
        supplyV: Number(told.supply), pullUpOhm: Number(told.pullUp),
      })) + " at the plug");
    }
    return line;
  }

  /** A resistor's own value has no more than two digits that count. */
  function plain(rOhm) { return Ohm.formatOhm(rOhm, 2); }

  field["stand-at"].addEventListener("input", look);
  field.series.addEventListener("change", look);
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  form.hidden = false;
  // Many pairs are tried: the first answer waits until the page itself can be used.
  setTimeout(look);
})((globalThis.Ohm = globalThis.Ohm || {}));
