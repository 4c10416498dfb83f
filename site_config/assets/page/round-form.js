// The family page's round: one reading per sensor, what each says, and what each place says together.

import { answerRound } from "../answers/round.js";
import { Refusal, statement } from "../answers/statement.js";
import { typedTemperature } from "../answers/typed.js";
import { remember, remembered } from "../look.js";
import { gridOf } from "../numbers/grid.js";
import { capital, nameOf, phrase, sentence } from "../words/phrase.js";
import { copyText } from "./copied.js";
import { el, part, parts } from "./element.js";
import {
  accept, fieldsOf, formOf, openForm, refuse, rememberedChoice, temperatureField,
} from "./fields.js";
import { today } from "./figures.js";
import { keptFor } from "./kept.js";
import { roundCase, roundText } from "./round-text.js";
import { teamShortOhm, toolsOf } from "./team.js";
import { unit } from "./unit.js";
import { verdictBadge, verdictBox, verdictWord } from "./verdict-box.js";

/** @typedef {import("./kept.js").Typed} Typed */
/** @typedef {import("../answers/round.js").RoundAnswer} RoundAnswer */
/** @typedef {import("../answers/round-places.js").PlaceAnswer} PlaceAnswer */
/** @typedef {import("../answers/round-places.js").RestingSensor} RestingSensor */
/** @typedef {import("../answers/round-rows.js").RoundReading} RoundReading */
/** @typedef {import("../answers/round-rows.js").RoundRow} RoundRow */
/** @typedef {import("../answers/statement.js").Statement} Statement */
/** @typedef {{sensor: RestingSensor, input: HTMLInputElement, says: HTMLElement}} Row */

/** @param {HTMLFormElement} form @param {Row[]} rows */
function roundForm(form, rows) {
  const { family = "", name = "" } = form.dataset;
  const kept = keptFor(family);
  const KEY = `ohm.round.${family}`;
  /** @type {{"round-at": HTMLInputElement, "round-how": HTMLSelectElement,
   *   meter: HTMLSelectElement, thermometer: HTMLSelectElement}} */
  const field = fieldsOf(form);
  const says = part(form, "output");
  const clear = part(form, "[data-clear]");
  const copied = part(form, ".ohm-copied");
  const atSays = el("p");
  const at = temperatureField(form, "round-at", (why) => {
    if (why === "unit") show();
    else typedOfRound();
  });
  /** @type {import("./round-text.js").Row[]} */
  let copiedRows = [];
  /** What was said of all together, for copying.
   * @type {string[]} */
  let together = [];

  function recall() {
    rows.forEach(({ sensor, input }) => { input.value = kept.of(sensor.id).reading || ""; });
    /** @type {{at?: string, how?: string}} */
    let before = {};
    try { before = JSON.parse(remembered(KEY) || "{}") || {}; } catch (broken) { /* begin anew */ }
    if (before.how) field["round-how"].value = before.how;
    if (before.at !== undefined) {
      at.show(Number(before.at));
      const fold = field["round-at"].closest("details");
      if (fold) fold.open = true;
    }
  }

  /** @returns {?number} the temperature of the round: null where none is given, or it is unreadable */
  function roundC() {
    const input = field["round-at"];
    atSays.replaceChildren();
    accept(input, atSays);
    try {
      return typedTemperature(input.value, { field: "at", unit: unit.now() }).tC;
    } catch (refused) {
      if (!(refused instanceof Refusal)) throw refused;
      if (!refused.missing) refuse(atSays, sentence(refused.statement), input);
      return null;
    }
  }

  /** A reading typed here was taken in this round: a temperature from its own page no longer holds.
   * @param {Row} row */
  function typedReading({ sensor, input }) {
    const reading = input.value.trim();
    kept.keep(sensor.id, reading ? withRound(reading) : null);
    show();
  }

  /** @param {string} reading @returns {Typed} */
  function withRound(reading) {
    const tC = roundC();
    const typed = { reading, meter: field.meter.value, round: "yes" };
    return tC === null ? typed : {
      ...typed, at: String(tC), how: field["round-how"].value, thermometer: field.thermometer.value,
    };
  }

  function typedOfRound() {
    const tC = roundC();
    remember(KEY, tC === null ? null
      : JSON.stringify({ at: String(tC), how: field["round-how"].value }));
    rows.forEach(({ sensor: { id } }) => {
      const before = kept.of(id);
      if (before.reading && before.round) kept.keep(id, withRound(before.reading));
    });
    show();
  }

  /** @param {Row} row @returns {RoundReading} as typed, its temperature kept in °C */
  function readingOf({ sensor: { id }, input }) {
    const { at: atC, how = "", round } = kept.of(id);
    return {
      sensor: id, reading: input.value, at: atC === undefined ? "" : `${atC}C`, placement: how,
      elsewhere: atC !== undefined && !round,
    };
  }

  function show() {
    const found = answerRound({
      sensors: rows.map(({ sensor }) => sensor), readings: rows.map(readingOf), unit: unit.now(),
      tools: toolsOf({ meter: field.meter.value, thermometer: field.thermometer.value }),
      shortOhm: teamShortOhm(),
    });
    rows.forEach(({ input, says: beside }) => {
      beside.replaceChildren();
      accept(input, beside);
    });
    copiedRows = [];
    found.rows.forEach(showRow);
    showTogether(found);
    clear.hidden = !copiedRows.length;
    copyKeys().forEach((key) => { key.disabled = !copiedRows.length; });
  }

  /** @param {RoundRow} found */
  function showRow(found) {
    const row = rows.find(({ sensor }) => sensor.id === found.sensor);
    if (!row) return;
    if (found.shownOhm === null && found.refusal) {
      refuse(row.says, sentence(found.refusal), row.input);
      return;
    }
    const text = rowWords(found);
    row.says.append(found.state ? verdictBadge(found.state) : "", found.state ? `. ${text}` : text);
    copiedRows.push({
      sensor: found.sensor, label: found.name, tC: found.tC,
      reading: row.input.value.trim().replace(/\s+/g, " "),
      how: found.tC === null ? null : kept.of(found.sensor).how || null,
      finding: found.state ? `${verdictWord(found.state)}. ${text}` : text,
    });
  }

  /** @param {RoundAnswer} found */
  function showTogether({ faulty, places, exchange, against }) {
    says.replaceChildren();
    together = [];
    if (faulty.length) box("outside", words(faulty), statement("round.title-faulty"));
    places.forEach(({ place, state, title, statements, next }) => {
      const why = words(statements);
      box(state, place ? `${capital(place)}: ${why}` : why, title, next);
    });
    if (exchange) box("undecided", words([exchange]), statement("round.title-exchanged"));
    if (against.length) says.append(el("p", "ohm-note", words(against)));
  }

  /** @param {string} state @param {string} why @param {Statement} title @param {?Statement} [next] */
  function box(state, why, title, next = null) {
    const word = capital(phrase(title));
    const shown = verdictBox(state, why, word);
    if (next) {
      const lead = el("strong", null, `${nameOf("form", "next")} `);
      shown.append(el("p", "ohm-next", lead, words([next])));
    }
    says.append(shown);
    together.push(`${word}. ${why}`);
  }

  /** @returns {HTMLButtonElement[]} */
  function copyKeys() {
    return parts(form, "[data-copy]").map((key) => /** @type {HTMLButtonElement} */ (key));
  }

  /** @returns {import("./round-text.js").Round} */
  function round() {
    return {
      family, name, on: today(), by: remembered("ohm.by") || "",
      meter: field.meter.value, meterName: field.meter.selectedOptions[0].text,
      thermometer: field.thermometer.value,
      thermometerName: field.thermometer.selectedOptions[0].text,
      rows: copiedRows, together: together.join(" "),
    };
  }

  const atField = field["round-at"].closest(".ohm-field");
  if (atField) atField.append(atSays);
  [field["round-how"], field.meter, field.thermometer].forEach(rememberedChoice);
  recall();
  rows.forEach((row) => {
    row.input.setAttribute("data-always-says", "");
    row.input.addEventListener("input", () => typedReading(row));
  });
  field["round-at"].addEventListener("input", typedOfRound);
  [field["round-how"], field.meter, field.thermometer].forEach((choice) => {
    choice.addEventListener("change", typedOfRound);
  });
  copyKeys().forEach((key) => {
    key.addEventListener("click", () => {
      if (key.dataset.copy === "text") copyText(copied, roundText(round()), "The round as text");
      else copyText(copied, roundCase(round()), "The round as a case entry");
    });
  });
  clear.addEventListener("click", () => {
    rows.forEach(({ sensor, input }) => {
      kept.keep(sensor.id, null);
      input.value = "";
    });
    field["round-at"].value = "";
    remember(KEY, null);
    copied.hidden = true;
    show();
    rows[0].input.focus();
  });
  document.addEventListener("ohm:unit", show);
  openForm(form);
  show();
}

/** @param {Statement[]} statements @returns {string} */
function words(statements) {
  return statements.map((finding) => sentence(finding, { unit: unit.now() })).join(" ");
}

/** @param {RoundRow} found @returns {string} what stands beside its badge */
function rowWords({ refusal, readsAs, beside, next }) {
  const findings = words([refusal, readsAs, ...beside].reduce(
    (/** @type {Statement[]} */ all, finding) => (finding ? all.concat(finding) : all), []));
  return next ? `${findings} ${nameOf("form", "next")} ${phrase(next)}.`.trim() : findings;
}

/** @param {HTMLFormElement} form @returns {Row[]} the sensors whose curve this page has brought */
function rowsOf(form) {
  /** @type {Row[]} */
  const rows = [];
  parts(form, "[data-facts]").forEach((li) => {
    const facts = JSON.parse(li.dataset.facts || "{}");
    const curve = gridOf(facts.curveId);
    if (!curve) return;
    const input = /** @type {HTMLInputElement} */ (part(li, "input"));
    rows.push({ sensor: { ...facts, curve }, input, says: part(li, ".ohm-round-state") });
  });
  return rows;
}

const form = formOf("round");
if (form) roundForm(form, rowsOf(form));
