// The family page's round: one reading per sensor, a verdict for each, and who disagrees with the rest.
(function (Ohm) {
  "use strict";
  var form = document.querySelector('[data-calc="round"]');
  if (!form) { return; }

  var told = form.dataset;
  var kept = Ohm.kept(told.family);
  var KEY = "ohm.round." + told.family;
  var field = form.elements;
  var says = form.querySelector("output");
  var clear = form.querySelector("[data-clear]");
  var copied = form.querySelector(".ohm-copied");
  var at = Ohm.temperatureField(form, "round-at", function (why) {
    if (why === "unit") { judge(); } else { typedTemperature(); }
  });
  var atSays = Ohm.el("p");
  field["round-at"].closest(".ohm-field").append(atSays);
  var rows = Array.from(form.querySelectorAll("[data-sensor]")).map(function (li) {
    return {
      id: li.dataset.sensor, label: li.dataset.label, curve: li.dataset.curve,
      place: li.dataset.place || "", grid: Ohm.curve(li.dataset.curve), allowK: Number(li.dataset.allowK),
      input: li.querySelector("input"), says: li.querySelector(".ohm-round-state"),
    };
  });
  var found = []; // what the last look made of the rows, for copying

  function t(tC) { return Ohm.formatT(tC, Ohm.unit.now(), 1); }
  function k(offK) { return Ohm.formatK(Math.abs(offK), Ohm.unit.now()); }

  function recall() {
    rows.forEach(function (row) { row.input.value = kept.of(row.id).reading || ""; });
    var before = {};
    try { before = JSON.parse(Ohm.remembered(KEY) || "{}") || {}; } catch (broken) { /* begin anew */ }
    if (before.how) { field["round-how"].value = before.how; }
    if (before.at !== undefined) {
      at.show(Number(before.at));
      field["round-at"].closest("details").open = true;
    }
  }

  /** The temperature of the round: a number, null where none is given, NaN where it is unreadable. */
  function roundC() {
    atSays.replaceChildren();
    Ohm.accept(field["round-at"], atSays);
    if (!field["round-at"].value.trim()) { return null; }
    var tC = Ohm.readField(field["round-at"], atSays, at.read);
    return tC === null ? NaN : tC;
  }

  /** A reading typed here was taken in this round: a temperature from its own page no longer holds. */
  function typedReading(row) {
    var reading = row.input.value.trim();
    kept.keep(row.id, reading ? withRound({ reading: reading, meter: field.meter.value }) : null);
    judge();
  }

  function withRound(typed) {
    var tC = roundC();
    typed.round = "yes";
    if (tC !== null && !isNaN(tC)) {
      typed.at = String(tC);
      typed.how = field["round-how"].value;
      typed.thermometer = field.thermometer.value;
    }
    return typed;
  }

  function typedTemperature() {
    var tC = roundC();
    Ohm.remember(KEY, tC === null || isNaN(tC) ? null
      : JSON.stringify({ at: String(tC), how: field["round-how"].value }));
    rows.forEach(function (row) {
      var before = kept.of(row.id);
      if (before.reading && before.round) {
        kept.keep(row.id, withRound({ reading: before.reading, meter: field.meter.value }));
      }
    });
    judge();
  }

  /** @returns {?object} a row's reading with its temperature; null where there is none to use */
  function read(row) {
    row.says.replaceChildren();
    Ohm.accept(row.input, row.says);
    if (!row.input.value.trim()) { return null; }
    var rOhm = Ohm.readField(row.input, row.says, Ohm.parseReading, ", or OL for over range");
    if (rOhm === null) { return null; }
    var typed = kept.of(row.id);
    var tC = typed.at === undefined ? null : Number(typed.at);
    return { row: row, rOhm: rOhm, typed: typed, tC: tC, elsewhere: tC !== null && !typed.round };
  }

  // A place where one sensor rests alone is as good as none: nobody there can agree with it.
  rows.forEach(function (row) {
    row.alone = !rows.some(function (other) { return other !== row && other.place === row.place; });
  });
  /** Where anyone's place is known, a sensor without one is held against nobody. */
  var placesKnown = rows.some(function (row) { return row.place; });

  function judge() {
    var readings = rows.map(read).filter(Boolean);
    var meter = globalThis.OhmTeam.meters[field.meter.value];
    var places = {};
    readings.forEach(function (one) {
      // In ice water a sensor is not at rest with the machine.
      if (one.elsewhere && one.typed.how === "ice-water") { return; }
      if (placesKnown && (!one.row.place || one.row.alone)) { return; }
      var resting = places[one.row.place] || (places[one.row.place] = {});
      var taken = Ohm.taken(one.rOhm, { tC: 20, meter: meter });
      resting[one.row.id] = {
        grid: one.row.grid, rOhm: taken.rOhm, meterHalfOhm: taken.meterHalfOhm, allowK: one.row.allowK,
        meterSpanOhm: taken.meterSpanOhm,
      };
    });
    var standing = {};
    var rested = Object.keys(places).sort();
    var together = rested.map(function (place) {
      var told = Ohm.atRest(places[place], { shortOhm: globalThis.OhmTeam.short_ohm });
      Object.assign(standing, told.standing);
      return { place: place, centreC: told.centreC };
    });
    found = readings.map(function (one) { return sayRow(one, standing[one.row.id]); });
    sayTogether(together, found);
    sayExchanged(Ohm.exchanged(rested.map(function (place) { return places[place]; }), { shortOhm: globalThis.OhmTeam.short_ohm }));
    clear.hidden = !found.length;
    form.querySelectorAll("[data-copy]").forEach(function (key) { key.disabled = !found.length; });
  }

  function sayRow(one, standing) {
    var words = [];
    var state = standing ? standing.state : null;
    if (one.tC !== null) {
      try {
        var verdict = Ohm.judgeTyped({ curve: one.row.curve, allow_k: one.row.allowK }, {
          at: String(one.tC), how: one.typed.how, reading: one.row.input.value, meter: field.meter.value,
          thermometer: field.thermometer.value,
        }).verdict;
        state = verdict.verdict;
        words.push("at " + t(one.tC) + (one.elsewhere ? " as typed on its page" : ""));
        if (verdict.tImpliedC !== null) { words.push("reads as at " + t(verdict.tImpliedC)); }
      } catch (outside) {
        if (outside.name !== "OutOfRange") { throw outside; }
        words.push(outside.message);
      }
    } else if (standing && standing.tImpliedC !== null) {
      words.push("reads as at " + t(standing.tImpliedC));
    }
    if (!standing) {
      words.push(one.elsewhere && one.typed.how === "ice-water"
        ? "not held against the rest, it was in ice water"
        : "not held against the rest, it rests in a place of its own");
    }
    else if (standing.offK !== null) {
      words.push(Math.abs(standing.offK) < 0.05 ? "in the middle of the rest"
        : k(standing.offK) + (standing.offK > 0 ? " above" : " below") + " the rest" +
          (standing.state === "stands-out" && state !== "stands-out" ? ": it stands out" : ""));
    }
    var text = words.length ? capital(words.join(", ")) + "." : "";
    one.row.says.append(state ? Ohm.verdictBadge(state) : "", (state ? ". " : "") + text);
    one.standing = standing;
    one.said = (state ? Ohm.verdictWord(state) + ". " : "") + text;
    return one;
  }

  /** Who disagrees with the rest, in one or two sentences for each place. */
  function sayTogether(together, all) {
    says.textContent = "";
    together.forEach(function (one) {
      var there = all.filter(function (row) { return row.row.place === one.place; });
      var told = summary(one, there);
      if (one.place) { told[1] = capital(one.place) + ": " + told[1]; }
      says.append(Ohm.verdictBox.apply(null, told));
    });
  }

  /** What stands out twice may be two plugs put back the wrong way round. */
  function sayExchanged(pairs) {
    if (!pairs.length) { return; }
    var named = pairs.map(function (pair) {
      return pair.map(function (id) {
        return rows.find(function (row) { return row.id === id; }).label;
      }).join(" and ");
    });
    says.append(Ohm.verdictBox("undecided", named.join(", or ") + ": each reads what the other should. " +
      "Look whether their plugs are exchanged before you replace either.", "Plugs exchanged?"));
  }

  function summary(together, all) {
    function those(state) { return all.filter(stands(state)).map(labelOf); }
    var compared = all.filter(function (one) { return one.standing && one.standing.offK !== null; }).length;
    var out = those("stands-out"), unsure = those("undecided");
    var broken = all.filter(function (one) { return one.standing && one.standing.tImpliedC === null; })
      .map(function (one) { return one.row.label + " (" + Ohm.verdictWord(one.standing.state).toLowerCase() + ")"; });
    var rest = broken.length ? " " + list(broken) + " cannot be held against the others." : "";
    if (compared < 2) {
      return [broken.length ? "outside" : "undecided",
        "Fill in at least three, so that they can be held against each other." + rest,
        broken.length ? "Faulty by itself" : "Too few yet"];
    }
    var middle = " The middle is " + t(together.centreC) + ".";
    if (out.length) {
      return ["outside", list(out) + (out.length > 1 ? " disagree" : " disagrees") + " with the rest." + middle + rest,
        out.length > 1 ? out.length + " stand out" : out[0] + " stands out"];
    }
    if (compared < 3) {
      return ["undecided", "Two alone cannot say which of them is wrong." + middle + rest, "Too few yet"];
    }
    if (unsure.length) {
      return ["undecided", list(unsure) + (unsure.length > 1 ? " are" : " is") +
        " too close to call with these instruments." + middle + rest, "Not decided"];
    }
    return [broken.length ? "outside" : "within", compared + " agree with each other." + middle +
      " Nothing speaks against them." + rest, broken.length ? "The others agree" : "All agree"];
  }

  function stands(state) {
    return function (one) { return one.standing && one.standing.state === state; };
  }

  function labelOf(one) { return one.row.label; }

  function capital(words) { return words.charAt(0).toUpperCase() + words.slice(1); }

  function list(labels) {
    return labels.length < 2 ? labels.join("") : labels.slice(0, -1).join(", ") + " and " + labels[labels.length - 1];
  }

  function today() {
    var now = new Date();
    return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map(function (one) {
      return String(one).padStart(2, "0");
    }).join("-");
  }

  function round() {
    return {
      family: told.family, name: told.name, on: today(), by: Ohm.remembered("ohm.by") || "",
      meter: field.meter.value, meterName: field.meter.selectedOptions[0].textContent,
      thermometer: field.thermometer.value,
      thermometerName: field.thermometer.selectedOptions[0].textContent,
      rows: found.map(function (one) {
        return {
          sensor: one.row.id, label: one.row.label, reading: one.row.input.value.trim().replace(/\s+/g, " "),
          tC: one.tC, how: one.tC === null ? null : one.typed.how, said: one.said,
        };
      }),
      together: Array.from(says.querySelectorAll(".ohm-verdict")).map(function (box) {
        return box.querySelector(".ohm-verdict-word").lastChild.textContent.trim() + ". " +
          box.querySelector(".ohm-verdict-why").textContent;
      }).join(" "),
    };
  }

  [field["round-how"], field.meter, field.thermometer].forEach(Ohm.rememberedChoice);
  recall();
  rows.forEach(function (row) {
    row.input.setAttribute("data-always-says", "");
    row.input.addEventListener("input", function () { typedReading(row); });
  });
  field["round-at"].addEventListener("input", typedTemperature);
  ["round-how", "meter", "thermometer"].forEach(function (name) {
    field[name].addEventListener("change", typedTemperature);
  });
  form.querySelectorAll("[data-copy]").forEach(function (key) {
    key.addEventListener("click", function () {
      if (key.dataset.copy === "text") { Ohm.copyText(copied, Ohm.roundText(round()), "The round as text"); }
      else { Ohm.copyText(copied, Ohm.roundCase(round()), "The round as a case entry"); }
    });
  });
  clear.addEventListener("click", function () {
    rows.forEach(function (row) { kept.keep(row.id, null); row.input.value = ""; });
    field["round-at"].value = "";
    Ohm.remember(KEY, null);
    copied.hidden = true;
    judge();
    rows[0].input.focus();
  });
  document.addEventListener("ohm:unit", judge);
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  form.hidden = false;
  judge();
})((globalThis.Ohm = globalThis.Ohm || {}));
