// The job page: gathers what this phone knows of one job, and hands it over as text and as a case.

import { statement } from "../answers/statement.js";
import { WORDS } from "../catalog.js";
import { capital, nameOf, phrase } from "../words/phrase.js";
import { remember, remembered } from "../look.js";
import { caseYaml } from "./case-yaml.js";
import { toClipboard } from "./copied.js";
import { button, el, link } from "./element.js";
import { today } from "./figures.js";
import { causeName, causeOf, causesToChoose, needed } from "./job-family.js";
import { readingLine, readingsOf } from "./job-readings.js";
import { jobLine, jobText, jobWords } from "./job-text.js";
import { keptFor } from "./kept.js";
import { ticksOf } from "./ticks.js";

function jobForm(form) {
  const family = form.dataset.family;
  const told = JSON.parse(form.dataset.job);
  const kept = keptFor(family);
  const KEY = `ohm.job.${family}`;
  const NAMES = ["code", "found", "cause", "cause-words", "cure", "refrigerant",
    "minutes", "by", "learnt"];
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

  function offerCauses() {
    const code = told.codes[field.code.value];
    field.cause.replaceChildren(...causesToChoose(told, code).map(({ value, words }) => {
      const option = el("option", null, words);
      option.value = value;
      return option;
    }));
  }

  const cause = () => causeOf(field.cause.value, field["cause-words"].value.trim());

  function listReadings(all) {
    const place = form.querySelector(".ohm-job-readings");
    if (!all.length) {
      place.replaceChildren(el("p", "ohm-hint", jobLine("no-readings")));
      return;
    }
    place.replaceChildren(el("ul", null, ...all.map((reading) => {
      const shape = reading.state ? `${nameOf("verdict", reading.state, "shape")} ` : "";
      return el("li", null, link(shape + readingLine(reading), `../sensors/${reading.id}.html`));
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
        lists.push({ name: part.name, ticked: refit.ticked.length, count: part.refit,
          complete: refit.complete });
      }
      if (prove.ticked.length || chosen) {
        part.prove.forEach((one, i) => {
          (prove.ticked.indexOf(String(i + 1)) >= 0 ? proved : unproved).push(one);
        });
      }
    });
    return { lists, proved, unproved };
  }

  function show() {
    const it = cause();
    const causeWords = causeName(told, it);
    const code = told.codes[field.code.value];
    const all = readingsOf(told.sensors, kept.all());
    const part = partLists();
    form.querySelector('[data-field="cause-words"]').hidden = field.cause.value !== "words";
    listReadings(all);
    text.textContent = jobText({
      family: told.name,
      on: today(),
      by: field.by.value.trim(),
      shown: code ? jobWords("shown", code) : "",
      found: field.found.value.trim(),
      readings: all.map(readingLine),
      cause: causeWords,
      cure: field.cure.value.trim(),
      refrigerant: field.refrigerant.value.trim(),
      minutes: field.minutes.value.trim(),
      needed: needed(told, it),
      lists: part.lists,
      proved: part.proved,
      unproved: part.unproved,
      cautions: [...(code ? code.after : []), WORDS.caution["maker-first"].words],
    });
    yaml.textContent = caseText(it, causeWords, code, all);
    const missing = missingWords();
    form.querySelectorAll(".ohm-case-keys button").forEach((one) => { one.disabled = missing.length > 0; });
    form.querySelector(".ohm-case-missing").textContent = missing.length
      ? jobLine("missing", { missing }) : "";
  }

  /** What a case must say before it may go to the notes, and does not yet. */
  function missingWords() {
    const { kind, id } = cause();
    const there = {
      found: field.found.value.trim(),
      cause: kind && id,
      cure: field.cure.value.trim(),
      minutes: /^[1-9]\d*$/.test(field.minutes.value.trim()),
      by: field.by.value.trim(),
    };
    return Object.keys(there).filter((name) => !there[name])
      .map((name) => nameOf("job-missing", name));
  }

  /** What stands in a case for what is not said yet. */
  const unsaid = (name) => capital(phrase(statement(`case.${name}`)));

  function caseText(it, causeWords, code, all) {
    return caseYaml({
      name: caseTitle(causeWords || WORDS.case["cause-unknown"], code),
      on: today(),
      by: field.by.value.trim() || WORDS.case.by,
      family,
      code: field.code.value || undefined,
      found: field.found.value.trim() || unsaid("found"),
      readings: all.filter((one) => {
        return one.state || one.typed.at === undefined;
      }).map((one) => {
        return { sensor: one.id, reading: one.typed.reading, at: one.typed.at, how: one.typed.how,
          meter: one.typed.meter, thermometer: one.typed.thermometer, after: one.after };
      }),
      cause: it.kind === "what" || !it.kind
        ? { what: it.id || WORDS.case.unknown } : { sensor: it.kind === "sensor" ? it.id : undefined, part: it.kind === "part" ? it.id : undefined },
      cure: field.cure.value.trim() || unsaid("cure"),
      minutes: /^\d+$/.test(field.minutes.value.trim()) ? field.minutes.value.trim() : "60",
      learnt: field.learnt.value.split("\n").map((line) => line.trim()).filter(Boolean),
    });
  }

  function caseTitle(words, code) {
    return code ? jobWords("case-name", { shown: code.shown.split(",")[0], cause: words }) : words;
  }

  /** @returns {string} a file name that is an id */
  function caseName() {
    const words = `${field.code.value || family}-${today()}`;
    return `${words.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "")}.yaml`;
  }

  function key(place, name, act) {
    form.querySelector(place).append(button(nameOf("job-key", name), act, "ohm-key"), " ");
  }

  function say(words) { says.textContent = words; }

  /** @param {HTMLElement} from where the text stands, to be marked where the phone refuses */
  function copyFrom(from) {
    toClipboard(from.textContent, () => {
      getSelection().selectAllChildren(from);
      from.focus();
    }).then((copied) => say(jobLine(copied ? "copied" : "marked")));
  }

  function save() {
    const file = link("", URL.createObjectURL(new Blob([yaml.textContent], { type: "text/yaml" })));
    file.download = caseName();
    file.click();
    setTimeout(() => { URL.revokeObjectURL(file.href); }, 1000);
    say(jobLine("saved", { file: file.download }));
  }

  key(".ohm-job-keys", "copy-text", () => { copyFrom(text); });
  if (navigator.share) {
    key(".ohm-job-keys", "share", () => {
      navigator.share({ text: text.textContent }).catch(() => { /* thought better of it */ });
    });
  }
  key(".ohm-job-keys", "print", () => { print(); });
  key(".ohm-case-keys", "copy-case", () => { copyFrom(yaml); });
  key(".ohm-case-keys", "save-case", save);

  form.querySelector("[data-clear]").addEventListener("click", () => {
    if (!confirm(jobLine("forget"))) return;
    remember(KEY, null);
    kept.clear();
    Object.keys(told.parts).forEach((id) => {
      remember(`ohm.ticks.${id}-refit`, null);
      remember(`ohm.ticks.${id}-prove`, null);
    });
    NAMES.forEach((name) => { field[name].value = ""; });
    recall();
    show();
    say(jobLine("cleared"));
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
