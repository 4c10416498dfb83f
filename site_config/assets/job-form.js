// The job page: gathers what this phone knows of one job, and hands it over as text and as a case.
(function (Ohm) {
  "use strict";
  var form = document.querySelector('[data-calc="job"]');
  if (!form) { return; }

  var family = form.dataset.family;
  var told = JSON.parse(form.dataset.job);
  var kept = Ohm.kept(family);
  var KEY = "ohm.job." + family;
  var NAMES = ["code", "found", "cause", "cause-words", "cure", "refrigerant",
    "minutes", "by", "learnt"];
  /** What a case must say before it may go to the notes: field → its words. */
  var MUST = { found: "what was found", cause: "what it was", cure: "what was done",
    minutes: "the minutes", by: "your initials" };
  var field = form.elements;
  var text = form.querySelector(".ohm-job-text");
  var yaml = form.querySelector(".ohm-case-text");
  var says = form.querySelector(".ohm-job-says");

  function recall() {
    var before = {};
    try { before = JSON.parse(Ohm.remembered(KEY) || "{}") || {}; } catch (broken) { /* begin anew */ }
    // A code page leads here with its own code.
    var asked = new URLSearchParams(location.search).get("code");
    field.code.value = before.code in told.codes ? before.code : asked in told.codes ? asked : "";
    offerCauses();
    NAMES.forEach(function (name) {
      if (name !== "code" && before[name] !== undefined) { field[name].value = before[name]; }
    });
    if (!before.by) { field.by.value = Ohm.remembered("ohm.by") || ""; }
  }

  function keep() {
    var now = {};
    NAMES.forEach(function (name) { if (field[name].value) { now[name] = field[name].value; } });
    Ohm.remember(KEY, Object.keys(now).length ? JSON.stringify(now) : null);
    if (field.by.value.trim()) { Ohm.remember("ohm.by", field.by.value.trim()); }
  }

  /** The code's own suspects first, then everything else of the family. */
  function offerCauses() {
    var code = told.codes[field.code.value];
    var first = code ? code.suspects : [];
    var seen = {};
    field.cause.replaceChildren(option("", "Not known yet"));
    first.forEach(function (one) {
      var value = one.kind + ":" + one.id;
      seen[value] = true;
      field.cause.append(option(value, one.kind === "what" ? one.id : nameOf(one.kind, one.id)));
    });
    ["sensor", "part"].forEach(function (kind) {
      Object.keys(told[kind + "s"]).forEach(function (id) {
        if (!seen[kind + ":" + id]) { field.cause.append(option(kind + ":" + id, nameOf(kind, id))); }
      });
    });
    field.cause.append(option("words", "Something else, in words"));
  }

  function option(value, words) {
    var made = Ohm.el("option", null, words);
    made.value = value;
    return made;
  }

  function nameOf(kind, id) { return told[kind + "s"][id].name; }

  /** @returns {{kind: string, id: string}} */
  function cause() {
    var at = field.cause.value.indexOf(":");
    if (field.cause.value === "words") { return { kind: "what", id: field["cause-words"].value.trim() }; }
    return at < 0 ? { kind: "", id: "" }
      : { kind: field.cause.value.slice(0, at), id: field.cause.value.slice(at + 1) };
  }

  /** @returns {Array<object>} every reading typed for this family, each with its verdict in words */
  function readings() {
    var all = kept.all();
    return Object.keys(all).sort().map(function (key) {
      var id = key.split("@")[0];
      var sensor = told.sensors[id];
      var typed = all[key];
      if (!sensor || !typed.reading) { return null; }
      var after = key.indexOf("@after") > 0;
      var verdict = null, why = "";
      if (typed.at === undefined) {
        return { id: id, sensor: sensor, typed: typed, after: after, verdict: null,
          why: "no temperature taken" };
      }
      try {
        var judged = Ohm.judgeTyped(sensor, typed);
        verdict = judged.verdict;
        why = Ohm.VERDICT_WORDS[verdict.verdict][0].toLowerCase();
      } catch (refused) {
        if (refused.name !== "Unreadable" && refused.name !== "OutOfRange") { throw refused; }
        why = refused.message;
      }
      return { id: id, sensor: sensor, typed: typed, after: after, verdict: verdict, why: why };
    }).filter(Boolean);
  }

  function sayReading(one) {
    var team = globalThis.OhmTeam;
    var with_ = [team.meters[one.typed.meter], team.thermometers[one.typed.thermometer]]
      .filter(Boolean).map(function (instrument) { return instrument.name; }).join(", ");
    var at = one.typed.at === undefined ? ""
      : " at " + Ohm.formatT(Number(one.typed.at), Ohm.unit.now(), 1) + " (" + told.how[one.typed.how] + ")";
    return one.sensor.name + (one.after ? ", after the repair" : "") + ": " + one.typed.reading +
      at + ", " + one.why + ". " + with_ + ".";
  }

  function listReadings(all) {
    var place = form.querySelector(".ohm-job-readings");
    if (!all.length) {
      place.replaceChildren(Ohm.el("p", "ohm-hint",
        "Nothing yet. What you type on the sensors' pages appears here."));
      return;
    }
    place.replaceChildren(Ohm.el.apply(null, ["ul", null].concat(all.map(function (one) {
      var shape = one.verdict ? Ohm.VERDICT_WORDS[one.verdict.verdict][1] + " " : "";
      var link = Ohm.el("a", null, shape + sayReading(one));
      link.href = "../sensors/" + one.id + ".html";
      return Ohm.el("li", null, link);
    }))));
  }

  /** Parts whose refit list or proof was begun on this phone. */
  function partLists() {
    var lists = [], proved = [], unproved = [];
    Object.keys(told.parts).forEach(function (id) {
      var part = told.parts[id];
      var refit = Ohm.ticks(id + "-refit");
      var prove = Ohm.ticks(id + "-prove");
      var chosen = field.cause.value === "part:" + id;
      if (refit.ticked.length || (chosen && part.refit)) {
        lists.push({ name: part.name, ticked: refit.ticked.length, of: part.refit,
          complete: refit.complete, what: "put back" });
      }
      if (prove.ticked.length || chosen) {
        part.prove.forEach(function (one, i) {
          (prove.ticked.indexOf(String(i + 1)) >= 0 ? proved : unproved).push(one);
        });
      }
    });
    return { lists: lists, proved: proved, unproved: unproved };
  }

  function needed(it) {
    var entry = it.kind === "sensor" ? told.sensors[it.id] : it.kind === "part" ? told.parts[it.id] : null;
    if (!entry) { return []; }
    return [
      entry.order ? entry.order : entry.name + " (no order text in the notes)",
      entry.labour_min ? "Labour: " + entry.labour_min + " minutes" : "",
      "Why: " + entry.name + " was found to be the cause.",
    ];
  }

  function today() {
    var now = new Date();
    return now.getFullYear() + "-" + String(now.getMonth() + 1).padStart(2, "0") + "-" +
      String(now.getDate()).padStart(2, "0");
  }

  function show() {
    var it = cause();
    var causeWords = it.kind === "what" ? it.id : it.kind ? nameOf(it.kind, it.id) : "";
    var code = told.codes[field.code.value];
    var all = readings();
    var part = partLists();
    form.querySelector('[data-field="cause-words"]').hidden = field.cause.value !== "words";
    listReadings(all);
    text.textContent = Ohm.jobText({
      family: told.name,
      on: today(),
      by: field.by.value.trim(),
      shown: code ? code.shown + " (" + code.name + ")" : "",
      found: field.found.value.trim(),
      readings: all.map(sayReading),
      cause: causeWords,
      cure: field.cure.value.trim(),
      refrigerant: field.refrigerant.value.trim(),
      minutes: field.minutes.value.trim(),
      needed: needed(it),
      lists: part.lists,
      proved: part.proved,
      unproved: part.unproved,
      cautions: (code ? code.after : []).concat(
        "The maker's instructions, local codes and licensed practice come first."),
    });
    yaml.textContent = caseText(it, causeWords, code, all);
    var missing = Object.keys(MUST).filter(function (name) {
      if (name === "cause") { return !it.kind || !it.id; }
      return name === "minutes" ? !/^[1-9]\d*$/.test(field.minutes.value.trim()) : !field[name].value.trim();
    }).map(function (name) { return MUST[name]; });
    form.querySelectorAll(".ohm-case-keys button").forEach(function (one) { one.disabled = missing.length > 0; });
    form.querySelector(".ohm-case-missing").textContent = missing.length
      ? "Still to be said above: " + missing.join(", ") + "." : "";
  }

  function caseText(it, causeWords, code, all) {
    return Ohm.caseYaml({
      name: ((code ? code.shown.split(",")[0] + ": " : "") + (causeWords || "cause not known yet")),
      on: today(),
      by: field.by.value.trim() || "initials",
      family: family,
      code: field.code.value || undefined,
      found: field.found.value.trim() || "Say what was found.",
      readings: all.filter(function (one) {
        return one.verdict || one.typed.at === undefined;
      }).map(function (one) {
        return { sensor: one.id, reading: one.typed.reading, at: one.typed.at, how: one.typed.how,
          meter: one.typed.meter, thermometer: one.typed.thermometer, after: one.after };
      }),
      cause: it.kind === "what" || !it.kind
        ? { what: it.id || "not known yet" } : { sensor: it.kind === "sensor" ? it.id : undefined, part: it.kind === "part" ? it.id : undefined },
      cure: field.cure.value.trim() || "Say what was done.",
      minutes: /^\d+$/.test(field.minutes.value.trim()) ? field.minutes.value.trim() : "60",
      learnt: field.learnt.value.split("\n").map(function (line) { return line.trim(); }).filter(Boolean),
    });
  }

  /** @returns {string} a file name that is an id */
  function caseName() {
    var words = (field.code.value || family) + "-" + today();
    return words.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "") + ".yaml";
  }

  function key(place, words, act) {
    var made = Ohm.el("button", "ohm-key", words);
    made.type = "button";
    made.addEventListener("click", act);
    form.querySelector(place).append(made, " ");
  }

  function say(words) { says.textContent = words; }

  /** Copy, and where the phone refuses (as from a folder) mark the text so that it can be copied. */
  function copy(from) {
    function refused() {
      getSelection().selectAllChildren(from);
      from.focus();
      say(document.execCommand("copy") ? "Copied." : "Marked: copy it with the phone's own menu.");
    }
    if (!navigator.clipboard) { refused(); return; }
    navigator.clipboard.writeText(from.textContent).then(function () { say("Copied."); }, refused);
  }

  function save() {
    var link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([yaml.textContent], { type: "text/yaml" }));
    link.download = caseName();
    link.click();
    setTimeout(function () { URL.revokeObjectURL(link.href); }, 1000);
    say("Saved as " + link.download + ".");
  }

  key(".ohm-job-keys", "Copy the text", function () { copy(text); });
  if (navigator.share) {
    key(".ohm-job-keys", "Share", function () {
      navigator.share({ text: text.textContent }).catch(function () { /* thought better of it */ });
    });
  }
  key(".ohm-job-keys", "Print", function () { print(); });
  key(".ohm-case-keys", "Copy the case", function () { copy(yaml); });
  key(".ohm-case-keys", "Save the case", save);

  form.querySelector("[data-clear]").addEventListener("click", function () {
    if (!confirm("Forget this job on this phone: its readings, its ticks and its words?")) { return; }
    Ohm.remember(KEY, null);
    kept.clear();
    Object.keys(told.parts).forEach(function (id) {
      Ohm.remember("ohm.ticks." + id + "-refit", null);
      Ohm.remember("ohm.ticks." + id + "-prove", null);
    });
    NAMES.forEach(function (name) { field[name].value = ""; });
    recall();
    show();
    say("Cleared.");
  });
  form.addEventListener("input", function (event) {
    if (event.target === field.code) { offerCauses(); }
    keep();
    show();
  });
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  document.addEventListener("ohm:unit", show);
  recall();
  form.hidden = false;
  show();
})((globalThis.Ohm = globalThis.Ohm || {}));
