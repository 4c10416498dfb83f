// The job page: gathers what this phone knows of one job, and hands it over as text and as a case.

import { statement } from "../answers/statement.js";
import { WORDS } from "../catalog.js";
import { remember, remembered } from "../look.js";
import { capital, nameOf, phrase } from "../words/phrase.js";
import { caseYaml } from "./case-yaml.js";
import { toClipboard } from "./copied.js";
import { button, el, link, part } from "./element.js";
import { fieldsOf, formOf, openForm } from "./fields.js";
import { today } from "./figures.js";
import { causeName, causeOf, causesToChoose, needed } from "./job-family.js";
import { readingLine, readingsOf } from "./job-readings.js";
import { jobLine, jobText, jobWords } from "./job-text.js";
import { jobTicks } from "../job/job-ticks.js";
import { keptFor } from "./kept.js";

/** @typedef {import("./job-family.js").JobFamily} JobFamily */
/** @typedef {import("./job-readings.js").JobReading} JobReading */
/** @typedef {"code"|"found"|"cause"|"cause-words"|"cure"|"refrigerant"|"minutes"|"by"|"learnt"} Name */
/** @type {Name[]} */
const NAMES = ["code", "found", "cause", "cause-words", "cure", "refrigerant", "minutes", "by",
  "learnt"];

/** @param {HTMLFormElement} form */
function jobForm(form) {
  const { family = "" } = form.dataset;
  /** @type {JobFamily} */
  const familyFacts = JSON.parse(form.dataset.job || "{}");
  const kept = keptFor(family);
  const KEY = `ohm.job.${family}`;
  /** @type {Object<Name, HTMLInputElement|HTMLTextAreaElement|HTMLSelectElement>} */
  const field = fieldsOf(form);
  const text = part(form, ".ohm-job-text");
  const yaml = part(form, ".ohm-case-text");
  const says = part(form, ".ohm-job-says");

  /** @param {Name} name @returns {string} what stands in a field */
  const words = (name) => field[name].value.trim();
  const cause = () => causeOf(field.cause.value, words("cause-words"));
  const code = () => familyFacts.codes[field.code.value];

  function recall() {
    /** @type {Partial<Object<Name, string>>} */
    let before = {};
    try { before = JSON.parse(remembered(KEY) || "{}") || {}; } catch (broken) { /* begin anew */ }
    // A code page leads here with its own code.
    const asked = new URLSearchParams(location.search).get("code");
    field.code.value = [before.code, asked].find((id) => id && id in familyFacts.codes) || "";
    offerCauses();
    NAMES.forEach((name) => {
      const typed = before[name];
      if (name !== "code" && typed !== undefined) field[name].value = typed;
    });
    if (!before.by) field.by.value = remembered("ohm.by") || "";
  }

  function keep() {
    /** @type {Partial<Object<Name, string>>} */
    const now = {};
    NAMES.forEach((name) => { if (field[name].value) now[name] = field[name].value; });
    remember(KEY, Object.keys(now).length ? JSON.stringify(now) : null);
    if (words("by")) remember("ohm.by", words("by"));
  }

  function offerCauses() {
    field.cause.replaceChildren(...causesToChoose(familyFacts, code()).map(({ value, words: name }) => {
      const option = el("option", null, name);
      option.value = value;
      return option;
    }));
  }

  /** @param {JobReading[]} all */
  function listReadings(all) {
    const place = part(form, ".ohm-job-readings");
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
    /** @type {import("./job-text.js").RefitList[]} */
    const lists = [];
    /** @type {string[]} */
    const proved = [];
    /** @type {string[]} */
    const unproved = [];
    Object.keys(familyFacts.parts).forEach((id) => {
      const { name, refit: count, prove } = familyFacts.parts[id];
      const { ticked, complete } = jobTicks(family, `${id}-refit`);
      const proofs = jobTicks(family, `${id}-prove`).ticked;
      const chosen = field.cause.value === `part:${id}`;
      if (ticked.length || (chosen && count)) {
        lists.push({ name, ticked: ticked.length, count, complete });
      }
      if (!proofs.length && !chosen) return;
      prove.forEach((proof, i) => {
        (proofs.includes(String(i + 1)) ? proved : unproved).push(proof);
      });
    });
    return { lists, proved, unproved };
  }

  function show() {
    const all = readingsOf(familyFacts.sensors, kept.all());
    const shown = code();
    part(form, '[data-field="cause-words"]').hidden = field.cause.value !== "words";
    listReadings(all);
    text.textContent = jobText({
      family: familyFacts.name,
      on: today(),
      by: words("by"),
      shown: shown ? jobWords("shown", shown) : "",
      found: words("found"),
      readings: all.map(readingLine),
      cause: causeName(familyFacts, cause()),
      cure: words("cure"),
      refrigerant: words("refrigerant"),
      minutes: words("minutes"),
      needed: needed(familyFacts, cause()),
      ...partLists(),
      cautions: [...(shown ? shown.after : []), WORDS.caution["maker-first"].words],
    });
    yaml.textContent = caseText(all);
    const missing = missingWords();
    form.querySelectorAll(".ohm-case-keys button").forEach((key) => {
      if (key instanceof HTMLButtonElement) key.disabled = missing.length > 0;
    });
    part(form, ".ohm-case-missing").textContent = missing.length
      ? jobLine("missing", { missing }) : "";
  }

  /** @returns {string[]} what a case must say before it may go to the notes, and does not yet */
  function missingWords() {
    const { kind, id } = cause();
    /** @type {Object<string, boolean>} */
    const there = {
      found: words("found") !== "",
      cause: kind !== "" && id !== "",
      cure: words("cure") !== "",
      minutes: /^[1-9]\d*$/.test(words("minutes")),
      by: words("by") !== "",
    };
    return Object.keys(there).filter((name) => !there[name])
      .map((name) => nameOf("job-missing", name));
  }

  /** @param {string} name @returns {string} what stands in a case for what is not said yet */
  const unsaid = (name) => capital(phrase(statement(`case.${name}`)));

  /** @param {JobReading[]} all @returns {string} */
  function caseText(all) {
    const { kind, id } = cause();
    const shown = code();
    const name = causeName(familyFacts, { kind, id }) || WORDS.case["cause-unknown"];
    return caseYaml({
      name: shown ? jobWords("case-name", { shown: shown.shown.split(",")[0], cause: name }) : name,
      on: today(),
      by: words("by") || WORDS.case.by,
      family,
      code: field.code.value || undefined,
      found: words("found") || unsaid("found"),
      readings: all.filter(({ state, typed }) => state || typed.at === undefined)
        .map(({ id: sensor, typed, after }) => ({
          sensor, reading: typed.reading || "", at: typed.at, how: typed.how,
          meter: typed.meter, thermometer: typed.thermometer, after,
        })),
      cause: kind === "sensor" || kind === "part" ? { [kind]: id } : { what: id || WORDS.case.unknown },
      cure: words("cure") || unsaid("cure"),
      minutes: /^\d+$/.test(words("minutes")) ? words("minutes") : "60",
      learnt: field.learnt.value.split("\n").map((/** @type {string} */ line) => line.trim()).filter(Boolean),
    });
  }

  /** @returns {string} a file name that is an id */
  function caseFile() {
    const id = `${field.code.value || family}-${today()}`;
    return `${id.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "")}.yaml`;
  }

  /** @param {string} place @param {string} name @param {function(): void} press */
  function key(place, name, press) {
    part(form, place).append(button(nameOf("job-key", name), press, "ohm-key"), " ");
  }

  /** @param {HTMLElement} from where the text stands, to be marked where the phone refuses */
  function copyFrom(from) {
    toClipboard(from.textContent || "", () => {
      const selection = getSelection();
      if (selection) selection.selectAllChildren(from);
      from.focus();
    }).then((copied) => {
      says.textContent = jobLine(copied ? "copied" : "marked");
    });
  }

  function save() {
    const content = new Blob([yaml.textContent || ""], { type: "text/yaml" });
    const file = link("", URL.createObjectURL(content));
    file.download = caseFile();
    file.click();
    setTimeout(() => { URL.revokeObjectURL(file.href); }, 1000);
    says.textContent = jobLine("saved", { file: file.download });
  }

  function share() {
    navigator.share({ text: text.textContent || "" }).catch(() => { /* thought better of it */ });
  }

  function forget() {
    if (!confirm(jobLine("forget"))) return;
    remember(KEY, null);
    kept.clear();
    Object.keys(familyFacts.parts).forEach((id) => {
      remember(`ohm.ticks.${id}-refit`, null);
      remember(`ohm.ticks.${id}-prove`, null);
    });
    NAMES.forEach((name) => { field[name].value = ""; });
    recall();
    show();
    says.textContent = jobLine("cleared");
  }

  key(".ohm-job-keys", "copy-text", () => copyFrom(text));
  if ("share" in navigator) key(".ohm-job-keys", "share", share);
  key(".ohm-job-keys", "print", () => print());
  key(".ohm-case-keys", "copy-case", () => copyFrom(yaml));
  key(".ohm-case-keys", "save-case", save);
  part(form, "[data-clear]").addEventListener("click", forget);
  form.addEventListener("input", ({ target }) => {
    if (target === field.code) offerCauses();
    keep();
    show();
  });
  document.addEventListener("ohm:unit", show);
  recall();
  openForm(form);
  show();
}

const form = formOf("job");
if (form) jobForm(form);
