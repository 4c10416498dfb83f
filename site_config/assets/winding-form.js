// The part page's winding form: are the windings alike, and are they what the maker says?
(function (Ohm) {
  "use strict";
  var form = document.querySelector('[data-calc="winding"]');
  if (!form) { return; }

  var told = JSON.parse(form.dataset.windings);
  var kept = Ohm.kept("part." + form.dataset.part);
  var field = form.elements;
  var answer = form.querySelector("output");
  var more = form.querySelector(".ohm-more");
  var clear = form.querySelector("[data-clear]");
  var at = Ohm.temperatureField(form, "winding-at", typed);
  // Only equal windings are held against each other; a start winding is not the run winding.
  var alike = told.pairs.length > 1 && told.pairs.every(function (one) { return one.ohm === told.pairs[0].ohm; });
  var rows = told.pairs.map(function (pair, i) {
    var input = field["winding-" + (i + 1)];
    return { pair: pair, input: input, says: document.getElementById(input.id + "-says") };
  });

  function recall() {
    var before = kept.of("windings");
    rows.forEach(function (row) { row.input.value = (before.readings || {})[row.pair.leads] || ""; });
    if (before.at !== undefined) { at.show(Number(before.at)); }
  }

  function typed() {
    var readings = {};
    rows.forEach(function (row) {
      if (row.input.value.trim()) { readings[row.pair.leads] = row.input.value.trim(); }
    });
    var tC;
    try { tC = String(at.read()); } catch (unreadable) { /* said by look */ }
    kept.keep("windings", Object.keys(readings).length ? { at: tC, readings: readings } : null);
    look();
  }

  function look() {
    var meter = globalThis.OhmTeam.meters[field["winding-meter"].value];
    more.replaceChildren();
    answer.replaceChildren();
    Ohm.accept(field["winding-at"], answer);
    clear.hidden = !rows.some(function (row) { return row.input.value.trim(); });
    var read = rows.map(readRow).filter(Boolean);
    if (!read.length) { answer.textContent = "Read every pair of leads."; return; }
    var tC = Ohm.readField(field["winding-at"], answer, at.read);
    if (tC === null) { return; }
    if (tC < -40 || tC > 150) {
      Ohm.refuse(answer, "A winding at " + Ohm.formatT(tC, Ohm.unit.now(), 0) + " is not cold. Let it cool, then read.", field["winding-at"]);
      return;
    }
    // Nothing is taken off for the meter's leads: the method has them zeroed, or taken off by hand.
    var taken = read.map(function (one) {
      var rOhm = one.rOhm > Ohm.meterSpanOhm(meter) ? Infinity : one.rOhm;
      return { leads: one.row.pair.leads, part: one.row.pair.ohm, rOhm: rOhm, halfOhm: Ohm.meterHalfOhm(meter, rOhm),
        digitOhm: Ohm.meterDigitOhm(meter, rOhm) };
    });
    var nothing = taken.filter(function (one) { return one.rOhm === 0; });
    if (nothing.length) {
      answer.replaceChildren(Ohm.verdictBox("short", nothing.map(leadsOf).join(", ") +
        " reads nothing: shorted, or far below what this meter can read."));
      return;
    }
    show(taken, tC, meter);
  }

  function readRow(row) {
    row.says.replaceChildren();
    Ohm.accept(row.input, row.says);
    if (!row.input.value.trim()) { return null; }
    var rOhm = Ohm.readField(row.input, row.says, Ohm.parseReading, ", or OL for over range");
    return rOhm === null ? null : { row: row, rOhm: rOhm };
  }

  function leadsOf(one) { return one.leads; }

  function show(taken, tC, meter) {
    var values = taken.map(function (one) {
      return Ohm.windingValue(one.rOhm, {
        halfOhm: one.halfOhm, tC: tC, partOhm: one.part, partC: told.at_c, constant: told.constant,
        allowedShare: told.tolerance_percent ? told.tolerance_percent / 100 : null,
      });
    });
    var balance = null;
    if (alike && taken.length > 1) {
      var beside = Ohm.meterBesideOhm(meter, taken.map(function (one) { return one.rOhm; }));
      taken.forEach(function (one, i) { one.besideOhm = beside[i]; });
      balance = Ohm.windingBalance(by(taken, "rOhm"), {
        halfWidthsOhm: by(taken, "besideOhm"), tC: tC, constant: told.constant,
        allowedShare: told.balance_percent ? told.balance_percent / 100 : null,
      });
      if (balance.state !== "open") { answer.append(sayBalance(balance)); }
    }
    answer.append(sayValues(taken, values));
    if (alike && taken.length < told.pairs.length) {
      answer.append(Ohm.el("p", null, "Read every pair: " + (told.pairs.length - taken.length) + " to go."));
    }
    more.append(table(taken, values, balance));
    if (balance && balance.state !== "open") {
      more.append(Ohm.el("p", "ohm-hint", "Alike or not compares readings of one meter on one range within a minute, and nothing " +
        "else: there one digit of it counts. The maker's value needs its whole accuracy."));
    }
    more.append(Ohm.el("p", "ohm-hint", "Brought to 20 °C with the constant " + told.constant + " for " + told.metal +
      ". Even windings do not prove a motor: insulation, bearings and a short between turns stay open."));
  }

  function by(taken, what) {
    return taken.reduce(function (found, one) { found[one.leads] = one[what]; return found; }, {});
  }

  function sayBalance(balance) {
    var spread = Ohm.formatSpread(balance.worstShare);
    var worst = spread.charAt(0).toUpperCase() + spread.slice(1);
    switch (balance.state) {
      case "within": return Ohm.verdictBox("within", worst + "; " + told.balance_percent + "\u00a0% is allowed.", "Alike");
      case "outside": return Ohm.verdictBox("outside", worst + "; " + told.balance_percent + "\u00a0% is allowed.", "Not alike");
      case "undecided": return Ohm.verdictBox("undecided", worst + ", but one digit of this meter is too coarse to decide: use one that shows a digit more.", "Not decided");
      default: return Ohm.verdictBox("undecided", worst + ". Nobody noted how much is allowed.", "No limit noted");
    }
  }

  function sayValues(taken, values) {
    function those(state) {
      return taken.filter(function (one, i) { return values[i].state === state; }).map(leadsOf).join(", ");
    }
    if (those("open")) { return Ohm.verdictBox("open", those("open") + ": over range. The winding or its lead is broken, or a protector inside is open: a hot shell may take hours to close it."); }
    if (those("outside")) { return Ohm.verdictBox("outside", those("outside") + ": not what the maker gives for it.", "Not the maker's value"); }
    if (those("undecided")) { return Ohm.verdictBox("undecided", those("undecided") + ": too close to call with this meter and a temperature known to ± " + Ohm.formatK(Ohm.WINDING_HALF_K, Ohm.unit.now()) + ".", "Maker's value: not decided"); }
    if (those("within")) { return Ohm.verdictBox("within", "Every reading is within " + told.tolerance_percent + "\u00a0% of the maker's value.", "The maker's value"); }
    return Ohm.el("p", null, "Nobody noted how far the maker's value may be off.");
  }

  function table(taken, values, balance) {
    var heads = ["Leads", "At 20 °C", "Maker's", "Off"].concat(balance && balance.state !== "open" ? ["From mean"] : []);
    var head = Ohm.el("tr");
    heads.forEach(function (words) { var cell = Ohm.el("th", null, words); cell.scope = "col"; head.append(cell); });
    var body = Ohm.el("tbody");
    taken.forEach(function (one, i) {
      var first = Ohm.el("th", null, one.leads);
      first.scope = "row";
      var line = Ohm.el("tr", null, first,
        Ohm.el("td", null, Ohm.formatOhmTo(values[i].at20Ohm, one.digitOhm)),
        Ohm.el("td", null, Ohm.formatOhmTo(values[i].partAt20Ohm, one.digitOhm)),
        Ohm.el("td", null, values[i].state === "open" ? "–" : Ohm.formatDeparture(values[i].offShare) + " ± " + Ohm.formatPercent(values[i].uncertaintyShare)));
      if (balance && balance.state !== "open") {
        var winding = balance.windings[one.leads];
        line.append(Ohm.el("td", null, Ohm.formatDeparture(winding.offShare) + " ± " + Ohm.formatPercent(winding.uncertaintyShare)));
      }
      body.append(line);
    });
    var region = Ohm.el("div", "ohm-scroll", Ohm.el("table", "ohm-table",
      Ohm.el("caption", null, "The windings at 20 °C"), Ohm.el("thead", null, head), body));
    region.tabIndex = 0;
    region.setAttribute("role", "region");
    region.setAttribute("aria-label", "The windings at 20 °C");
    return region;
  }

  recall();
  rows.forEach(function (row) { row.input.addEventListener("input", typed); });
  field["winding-at"].addEventListener("input", typed);
  field["winding-meter"].addEventListener("change", look);
  clear.addEventListener("click", function () {
    rows.forEach(function (row) { row.input.value = ""; });
    typed();
    rows[0].input.focus();
  });
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  form.hidden = false;
  look();
})((globalThis.Ohm = globalThis.Ohm || {}));
