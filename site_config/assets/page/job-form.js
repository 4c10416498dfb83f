// The job page: gathers what this phone knows of one job, and hands it over as text and as a case.

import { judgeTyped } from "./judge-typed.js";
import { remember, remembered } from "../look.js";
import { nameOf } from "../words/phrase.js";
import { caseYaml } from "./case-yaml.js";
import { toClipboard } from "./copied.js";
import { button, el, link } from "./element.js";
import { sayT, today } from "./figures.js";
import { jobText } from "./job-text.js";
import { keptFor } from "./kept.js";
import { ticksOf } from "./ticks.js";

function jobForm(form) {
  const family = form.dataset.family;
  const told = JSON.parse(form.dataset.job);
  const kept = keptFor(family);
  const KEY = `ohm.job.${family}`;
  const NAMES = ["code", "found", "cause", "cause-words", "cure", "refrigerant",
    "minutes", "by", "learnt"];
  /** What a case must say before it may go to the notes: field → its words. */
  const MUST = { found: "what was found", cause: "what it was", cure: "what was done",
    minutes: "the minutes", by: "your initials" };
  const field = form.elements;
  const text = form.querySelector(".ohm-job-text");
  const yaml = form.querySelector(".ohm-case-text");
  const says = form.querySelector(".ohm-job-says");

  function recall() {
    let before = {};
    try { before = JSON.parse(remembered(KEY) || "{}") || {}; } catch (broken) { /* begin anew */ }
    // A code page leads here with its own code.
    const asked = new URLSearchParams(location.search).get("code");
    field.code.value = before.code in told.codes ? before.code : asked in told.codes ? asked : "";
    offerCauses();
    NAMES.forEach((name) => {
      if (name !== "code" && before[name] !== undefined) { field[name].value = before[name]; }
    });
    if (!before.by) { field.by.value = remembered("ohm.by") || ""; }
  }

  function keep() {
    const now = {};
    NAMES.forEach((name) => { if (field[name].value) { now[name] = field[name].value; } });
    remember(KEY, Object.keys(now).length ? JSON.stringify(now) : null);
    if (field.by.value.trim()) { remember("ohm.by", field.by.value.trim()); }
  }

  /** The code's own suspects first, then everything else of the family. */
  function offerCauses() {
    const code = told.codes[field.code.value];
    const first = code ? code.suspects : [];
    const seen = {};
    field.cause.replaceChildren(option("", "Not known yet"));
    first.forEach((one) => {
      const value = `${one.kind}:${one.id}`;
      seen[value] = true;
      field.cause.append(option(value, one.kind === "what" ? one.id : entryName(one.kind, one.id)));
    });
    ["sensor", "part"].forEach((kind) => {
      Object.keys(told[`${kind}s`]).forEach((id) => {
        if (!seen[`${kind}:${id}`]) { field.cause.append(option(`${kind}:${id}`, entryName(kind, id))); }
      });
    });
    field.cause.append(option("words", "Something else, in words"));
  }

  function option(value, words) {
    const made = el("option", null, words);
    made.value = value;
    return made;
  }

  function entryName(kind, id) { return told[`${kind}s`][id].name; }

  /** @returns {{kind: string, id: string}} */
  function cause() {
    const at = field.cause.value.indexOf(":");
    if (field.cause.value === "words") { return { kind: "what", id: field["cause-words"].value.trim() }; }
    return at < 0 ? { kind: "", id: "" }
      : { kind: field.cause.value.slice(0, at), id: field.cause.value.slice(at + 1) };
  }

  /** @returns {Array<object>} every reading typed for this family, each with its verdict in words */
  function readings() {
    const all = kept.all();
    return Object.keys(all).sort().map((key) => {
      const id = key.split("@")[0];
      const sensor = told.sensors[id];
      const typed = all[key];
      if (!sensor || !typed.reading) return null;
      const after = key.indexOf("@after") > 0;
      let verdict = null, why = "";
      if (typed.at === undefined) {
        return { id, sensor, typed, after, verdict: null,
          why: "no temperature taken" };
      }
      try {
        const judged = judgeTyped(sensor, typed);
        verdict = judged.verdict;
        why = nameOf("verdict", verdict.verdict).toLowerCase();
      } catch (refused) {
        if (refused.name !== "Unreadable" && refused.name !== "OutOfRange") { throw refused; }
        why = refused.message;
      }
      return { id, sensor, typed, after, verdict, why };
    }).filter(Boolean);
  }

  function sayReading(one) {
    const team = globalThis.OhmTeam;
    const with_ = [team.meters[one.typed.meter], team.thermometers[one.typed.thermometer]]
      .filter(Boolean).map((instrument) => instrument.name).join(", ");
    const at = one.typed.at === undefined ? ""
      : ` at ${sayT(Number(one.typed.at))} (${told.how[one.typed.how]})`;
    return `${one.sensor.name + (one.after ? ", after the repair" : "")}: ${one.typed.reading}` +
      `${at}, ${one.why}. ${with_}.`;
  }

  function listReadings(all) {
    const place = form.querySelector(".ohm-job-readings");
    if (!all.length) {
      place.replaceChildren(el("p", "ohm-hint",
        "Nothing yet. What you type on the sensors' pages appears here."));
      return;
    }
    place.replaceChildren(el("ul", null, ...all.map((one) => {
      const shape = one.verdict ? `${nameOf("verdict", one.verdict.verdict, "shape")} ` : "";
      return el("li", null, link(shape + sayReading(one), `../sensors/${one.id}.html`));
    })));
  }

  /** Parts whose refit list or proof was begun on this phone. */
  function partLists() {
    const lists = [], proved = [], unproved = [];
    Object.keys(told.parts).forEach((id) => {
      const part = told.parts[id];
      const refit = ticksOf(`${id}-refit`);
      const prove = ticksOf(`${id}-prove`);
      const chosen = field.cause.value === `part:${id}`;
      if (refit.ticked.length || (chosen && part.refit)) {
        lists.push({ name: part.name, ticked: refit.ticked.length, of: part.refit,
          complete: refit.complete, what: "put back" });
      }
      if (prove.ticked.length || chosen) {
        part.prove.forEach((one, i) => {
          (prove.ticked.indexOf(String(i + 1)) >= 0 ? proved : unproved).push(one);
        });
      }
    });
    return { lists, proved, unproved };
  }

  function needed(it) {
    const entry = it.kind === "sensor" ? told.sensors[it.id] : it.kind === "part" ? told.parts[it.id] : null;
    if (!entry) return [];
    return [
      entry.order ? entry.order : `${entry.name} (no order text in the notes)`,
      entry.labour_min ? `Labour: ${entry.labour_min} minutes` : "",
      `Why: ${entry.name} was found to be the cause.`,
    ];
  }

  function show() {
    const it = cause();
    const causeWords = it.kind === "what" ? it.id : it.kind ? entryName(it.kind, it.id) : "";
    const code = told.codes[field.code.value];
    const all = readings();
    const part = partLists();
    form.querySelector('[data-field="cause-words"]').hidden = field.cause.value !== "words";
    listReadings(all);
    text.textContent = jobText({
      family: told.name,
      on: today(),
      by: field.by.value.trim(),
      shown: code ? `${code.shown} (${code.name})` : "",
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
    const missing = Object.keys(MUST).filter((name) => {
      if (name === "cause") return !it.kind || !it.id;
      return name === "minutes" ? !/^[1-9]\d*$/.test(field.minutes.value.trim()) : !field[name].value.trim();
    }).map((name) => MUST[name]);
    form.querySelectorAll(".ohm-case-keys button").forEach((one) => { one.disabled = missing.length > 0; });
    form.querySelector(".ohm-case-missing").textContent = missing.length
      ? `Still to be said above: ${missing.join(", ")}.` : "";
  }

  function caseText(it, causeWords, code, all) {
    return caseYaml({
      name: ((code ? `${code.shown.split(",")[0]}: ` : "") + (causeWords || "cause not known yet")),
      on: today(),
      by: field.by.value.trim() || "initials",
      family,
      code: field.code.value || undefined,
      found: field.found.value.trim() || "Say what was found.",
      readings: all.filter((one) => {
        return one.verdict || one.typed.at === undefined;
      }).map((one) => {
        return { sensor: one.id, reading: one.typed.reading, at: one.typed.at, how: one.typed.how,
          meter: one.typed.meter, thermometer: one.typed.thermometer, after: one.after };
      }),
      cause: it.kind === "what" || !it.kind
        ? { what: it.id || "not known yet" } : { sensor: it.kind === "sensor" ? it.id : undefined, part: it.kind === "part" ? it.id : undefined },
      cure: field.cure.value.trim() || "Say what was done.",
      minutes: /^\d+$/.test(field.minutes.value.trim()) ? field.minutes.value.trim() : "60",
      learnt: field.learnt.value.split("\n").map((line) => line.trim()).filter(Boolean),
    });
  }

  /** @returns {string} a file name that is an id */
  function caseName() {
    const words = `${field.code.value || family}-${today()}`;
    return `${words.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "")}.yaml`;
  }

  function key(place, words, act) {
    form.querySelector(place).append(button(words, act, "ohm-key"), " ");
  }

  function say(words) { says.textContent = words; }

  /** @param {HTMLElement} from where the text stands, to be marked where the phone refuses */
  function copyFrom(from) {
    toClipboard(from.textContent, () => {
      getSelection().selectAllChildren(from);
      from.focus();
    }).then((copied) => say(copied ? "Copied." : "Marked: copy it with the phone's own menu."));
  }

  function save() {
    const file = link("", URL.createObjectURL(new Blob([yaml.textContent], { type: "text/yaml" })));
    file.download = caseName();
    file.click();
    setTimeout(() => { URL.revokeObjectURL(file.href); }, 1000);
    say(`Saved as ${file.download}.`);
  }

  key(".ohm-job-keys", "Copy the text", () => { copyFrom(text); });
  if (navigator.share) {
    key(".ohm-job-keys", "Share", () => {
      navigator.share({ text: text.textContent }).catch(() => { /* thought better of it */ });
    });
  }
  key(".ohm-job-keys", "Print", () => { print(); });
  key(".ohm-case-keys", "Copy the case", () => { copyFrom(yaml); });
  key(".ohm-case-keys", "Save the case", save);

  form.querySelector("[data-clear]").addEventListener("click", () => {
    if (!confirm("Forget this job on this phone: its readings, its ticks and its words?")) return;
    remember(KEY, null);
    kept.clear();
    Object.keys(told.parts).forEach((id) => {
      remember(`ohm.ticks.${id}-refit`, null);
      remember(`ohm.ticks.${id}-prove`, null);
    });
    NAMES.forEach((name) => { field[name].value = ""; });
    recall();
    show();
    say("Cleared.");
  });
  form.addEventListener("input", (event) => {
    if (event.target === field.code) { offerCauses(); }
    keep();
    show();
  });
  form.addEventListener("submit", (event) => { event.preventDefault(); });
  document.addEventListener("ohm:unit", show);
  recall();
  form.hidden = false;
  show();
}

const form = document.querySelector('[data-calc="job"]');
if (form) jobForm(form);
