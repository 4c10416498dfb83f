// The job page: gathers what this phone knows of one job, and hands it over as text and as a case.

import { nameOf } from "../words/phrase.js";
import { judgeTyped } from "./judge-typed.js";
import { remember, remembered } from "../look.js";
import { Unreadable } from "../numbers/notation.js";
import { OutOfRange } from "../numbers/out-of-range.js";
import { caseYaml } from "./case-yaml.js";
import { toClipboard } from "./copied.js";
import { button, el, link, part } from "./element.js";
import { fieldsOf, formOf, openForm } from "./fields.js";
import { sayT, today } from "./figures.js";
import { causeName, causeOf, causesToChoose, needed } from "./job-family.js";
import { jobText } from "./job-text.js";
import { keptFor } from "./kept.js";
import { ticksOf } from "./ticks.js";

/** @typedef {import("./judge-typed.js").Typed} Typed */
/** @typedef {import("./job-family.js").Cause} Cause */
/** @typedef {import("./job-family.js").JobFamily} JobFamily */
/** @typedef {import("./job-family.js").JobSensor} JobSensor */
/** @typedef {"code"|"found"|"cause"|"cause-words"|"cure"|"refrigerant"|"minutes"|"by"|"learnt"} Name */
/** One reading as typed, and its verdict in words; state is empty where it has none.
 * @typedef {{id: string, sensor: JobSensor, typed: Typed, after: boolean, state: string,
 *   why: string}} JobReading */

/** @type {Name[]} */
const NAMES = ["code", "found", "cause", "cause-words", "cure", "refrigerant", "minutes", "by",
  "learnt"];
const FIRST_ALWAYS = "The maker's instructions, local codes and licensed practice come first.";

/** @param {HTMLFormElement} form */
function jobForm(form) {
  const { family = "" } = form.dataset;
  /** @type {JobFamily} */
  const told = JSON.parse(form.dataset.job || "{}");
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
  const code = () => told.codes[field.code.value];

  function recall() {
    /** @type {Partial<Object<Name, string>>} */
    let before = {};
    try { before = JSON.parse(remembered(KEY) || "{}") || {}; } catch (broken) { /* begin anew */ }
    // A code page leads here with its own code.
    const asked = new URLSearchParams(location.search).get("code");
    field.code.value = [before.code, asked].find((id) => id && id in told.codes) || "";
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
    field.cause.replaceChildren(...causesToChoose(told, code()).map(({ value, words: name }) => {
      const option = el("option", null, name);
      option.value = value;
      return option;
    }));
  }

  /** @returns {JobReading[]} every reading typed for this family */
  function readings() {
    const all = kept.all();
    /** @type {JobReading[]} */
    const found = [];
    Object.keys(all).sort().forEach((key) => {
      const [id] = key.split("@");
      const sensor = told.sensors[id];
      const typed = all[key];
      if (!sensor || !typed.reading) return;
      found.push({ id, sensor, typed, after: key.includes("@after"), ...judged(sensor, typed) });
    });
    return found;
  }

  /** @param {JobSensor} sensor @param {Typed} typed @returns {{state: string, why: string}} */
  function judged(sensor, typed) {
    if (typed.at === undefined) return { state: "", why: "no temperature taken" };
    try {
      const state = judgeTyped(sensor, typed).verdict.verdict;
      return { state, why: nameOf("verdict", state).toLowerCase() };
    } catch (refused) {
      if (!(refused instanceof Unreadable || refused instanceof OutOfRange)) throw refused;
      return { state: "", why: refused.message };
    }
  }

  /** @param {JobReading} reading @returns {string} */
  function sayReading({ sensor, typed, after, why }) {
    const team = globalThis.OhmTeam;
    const instruments = [team.meters[typed.meter || ""], team.thermometers[typed.thermometer || ""]]
      .filter(Boolean).map(({ name }) => name).join(", ");
    const at = typed.at === undefined ? ""
      : ` at ${sayT(Number(typed.at))} (${told.how[typed.how || ""]})`;
    return `${sensor.name}${after ? ", after the repair" : ""}: ${typed.reading}${at}, ${why}. ` +
      `${instruments}.`;
  }

  /** @param {JobReading[]} all */
  function listReadings(all) {
    const place = part(form, ".ohm-job-readings");
    if (!all.length) {
      place.replaceChildren(el("p", "ohm-hint",
        "Nothing yet. What you type on the sensors' pages appears here."));
      return;
    }
    place.replaceChildren(el("ul", null, ...all.map((reading) => {
      const shape = reading.state ? `${nameOf("verdict", reading.state, "shape")} ` : "";
      return el("li", null, link(shape + sayReading(reading), `../sensors/${reading.id}.html`));
    })));
  }

  /** Parts whose refit list or proof was begun on this phone. */
  function partLists() {
    /** @type {Array<{name: string, ticked: number, of: number, complete: boolean, what: string}>} */
    const lists = [];
    /** @type {string[]} */
    const proved = [];
    /** @type {string[]} */
    const unproved = [];
    Object.keys(told.parts).forEach((id) => {
      const { name, refit: of, prove } = told.parts[id];
      const { ticked, complete } = ticksOf(`${id}-refit`);
      const proofs = ticksOf(`${id}-prove`).ticked;
      const chosen = field.cause.value === `part:${id}`;
      if (ticked.length || (chosen && of)) {
        lists.push({ name, ticked: ticked.length, of, complete, what: "put back" });
      }
      if (!proofs.length && !chosen) return;
      prove.forEach((proof, i) => {
        (proofs.includes(String(i + 1)) ? proved : unproved).push(proof);
      });
    });
    return { lists, proved, unproved };
  }

  function show() {
    const all = readings();
    const shown = code();
    part(form, '[data-field="cause-words"]').hidden = field.cause.value !== "words";
    listReadings(all);
    text.textContent = jobText({
      family: told.name,
      on: today(),
      by: words("by"),
      shown: shown ? `${shown.shown} (${shown.name})` : "",
      found: words("found"),
      readings: all.map(sayReading),
      cause: causeName(told, cause()),
      cure: words("cure"),
      refrigerant: words("refrigerant"),
      minutes: words("minutes"),
      needed: needed(told, cause()),
      ...partLists(),
      cautions: [...(shown ? shown.after : []), FIRST_ALWAYS],
    });
    yaml.textContent = caseText(all);
    const missing = missingWords();
    form.querySelectorAll(".ohm-case-keys button").forEach((key) => {
      if (key instanceof HTMLButtonElement) key.disabled = missing.length > 0;
    });
    part(form, ".ohm-case-missing").textContent = missing.length
      ? `Still to be said above: ${missing.join(", ")}.` : "";
  }

  /** @returns {string[]} what a case must say before it may go to the notes, and does not yet */
  function missingWords() {
    const { kind, id } = cause();
    return [
      words("found") ? "" : "what was found",
      kind && id ? "" : "what it was",
      words("cure") ? "" : "what was done",
      /^[1-9]\d*$/.test(words("minutes")) ? "" : "the minutes",
      words("by") ? "" : "your initials",
    ].filter(Boolean);
  }

  /** @param {JobReading[]} all @returns {string} */
  function caseText(all) {
    const { kind, id } = cause();
    const shown = code();
    const name = causeName(told, { kind, id }) || "cause not known yet";
    return caseYaml({
      name: (shown ? `${shown.shown.split(",")[0]}: ` : "") + name,
      on: today(),
      by: words("by") || "initials",
      family,
      code: field.code.value || undefined,
      found: words("found") || "Say what was found.",
      readings: all.filter(({ state, typed }) => state || typed.at === undefined)
        .map(({ id: sensor, typed, after }) => ({
          sensor, reading: typed.reading || "", at: typed.at, how: typed.how,
          meter: typed.meter, thermometer: typed.thermometer, after,
        })),
      cause: kind === "sensor" || kind === "part" ? { [kind]: id } : { what: id || "not known yet" },
      cure: words("cure") || "Say what was done.",
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
    part(form, place).append(button(name, press, "ohm-key"), " ");
  }

  /** @param {HTMLElement} from where the text stands, to be marked where the phone refuses */
  function copyFrom(from) {
    toClipboard(from.textContent || "", () => {
      const selection = getSelection();
      if (selection) selection.selectAllChildren(from);
      from.focus();
    }).then((copied) => {
      says.textContent = copied ? "Copied." : "Marked: copy it with the phone's own menu.";
    });
  }

  function save() {
    const content = new Blob([yaml.textContent || ""], { type: "text/yaml" });
    const file = link("", URL.createObjectURL(content));
    file.download = caseFile();
    file.click();
    setTimeout(() => { URL.revokeObjectURL(file.href); }, 1000);
    says.textContent = `Saved as ${file.download}.`;
  }

  function share() {
    navigator.share({ text: text.textContent || "" }).catch(() => { /* thought better of it */ });
  }

  function forget() {
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
    says.textContent = "Cleared.";
  }

  key(".ohm-job-keys", "Copy the text", () => copyFrom(text));
  if ("share" in navigator) key(".ohm-job-keys", "Share", share);
  key(".ohm-job-keys", "Print", () => print());
  key(".ohm-case-keys", "Copy the case", () => copyFrom(yaml));
  key(".ohm-case-keys", "Save the case", save);
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
