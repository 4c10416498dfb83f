// The family page's round: one reading per sensor, a verdict for each, and who disagrees with the
// rest.

import { judgeTyped } from "./judge-typed.js";
import { remember, remembered } from "../look.js";
import { atRest } from "../numbers/at-rest.js";
import { exchanged } from "../numbers/exchanged.js";
import { gridOf } from "../numbers/grid.js";
import { taken } from "../numbers/instruments.js";
import { parseReading } from "../numbers/notation.js";
import { OutOfRange } from "../numbers/out-of-range.js";
import { copyText } from "./copied.js";
import { el, part, parts } from "./element.js";
import {
  accept, fieldsOf, formOf, openForm, readField, rememberedChoice, temperatureField,
} from "./fields.js";
import { sayT, today } from "./figures.js";
import { keptFor } from "./kept.js";
import { roundCase, roundText } from "./round-text.js";
import { capital, standingWords, summary } from "./round-words.js";
import { verdictBadge, verdictBox, verdictWord } from "./verdict-box.js";

/** @typedef {import("./judge-typed.js").Typed} Typed */
/** @typedef {import("../numbers/at-rest.js").Resting} Resting */
/** @typedef {import("../numbers/at-rest.js").Standing} Standing */
/**
 * @typedef {{id: string, label: string, curve: string, place: string, allowK: number,
 *   grid: import("../numbers/grid.js").Grid, input: HTMLInputElement, says: HTMLElement}} Row
 * A row's reading; elsewhere: its temperature was typed on the sensor's own page.
 * @typedef {{row: Row, rOhm: number, typed: Typed, tC: ?number, elsewhere: boolean}} Reading
 * @typedef {Reading & {label: string, standing: Standing|undefined, said: string}} Found
 */

/** @param {HTMLFormElement} form */
function roundForm(form) {
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
    if (why === "unit") judge();
    else typedTemperature();
  });
  /** @type {Row[]} */
  const rows = [];
  parts(form, "[data-sensor]").forEach((li) => {
    const { sensor: id = "", label = "", curve = "", place = "", allowK } = li.dataset;
    const grid = gridOf(curve);
    if (!grid) return;
    const input = /** @type {HTMLInputElement} */ (part(li, "input"));
    const state = part(li, ".ohm-round-state");
    rows.push({ id, label, curve, place, allowK: Number(allowK), grid, input, says: state });
  });
  /** @type {Found[]} */
  let found = []; // what the last look made of the rows, for copying

  function recall() {
    rows.forEach(({ id, input }) => { input.value = kept.of(id).reading || ""; });
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
    atSays.replaceChildren();
    accept(field["round-at"], atSays);
    return field["round-at"].value.trim() ? readField(field["round-at"], atSays, at.read) : null;
  }

  /** A reading typed here was taken in this round: a temperature from its own page no longer holds.
   * @param {Row} row */
  function typedReading({ id, input }) {
    const reading = input.value.trim();
    kept.keep(id, reading ? withRound(reading) : null);
    judge();
  }

  /** @param {string} reading @returns {Typed} */
  function withRound(reading) {
    const tC = roundC();
    const typed = { reading, meter: field.meter.value, round: "yes" };
    return tC === null ? typed : {
      ...typed, at: String(tC), how: field["round-how"].value, thermometer: field.thermometer.value,
    };
  }

  function typedTemperature() {
    const tC = roundC();
    remember(KEY, tC === null ? null
      : JSON.stringify({ at: String(tC), how: field["round-how"].value }));
    rows.forEach(({ id }) => {
      const before = kept.of(id);
      if (before.reading && before.round) kept.keep(id, withRound(before.reading));
    });
    judge();
  }

  /** @returns {Reading[]} those that can be read; what is wrong with another is said beside it */
  function read() {
    /** @type {Reading[]} */
    const readings = [];
    rows.forEach((row) => {
      row.says.replaceChildren();
      accept(row.input, row.says);
      if (!row.input.value.trim()) return;
      const rOhm = readField(row.input, row.says, parseReading);
      if (rOhm === null) return;
      const typed = kept.of(row.id);
      const tC = typed.at === undefined ? null : Number(typed.at);
      readings.push({ row, rOhm, typed, tC, elsewhere: tC !== null && !typed.round });
    });
    return readings;
  }

  /** A place where one sensor rests alone is as good as none: nobody there can agree with it.
   * @param {Row} row */
  const alone = (row) => !rows.some((other) => other !== row && other.place === row.place);
  /** Where anyone's place is known, a sensor without one is held against nobody. */
  const placesKnown = rows.some(({ place }) => place);

  /** @param {Reading[]} readings
   * @returns {Object<string, Object<string, Resting>>} by place, by sensor */
  function restingAt(readings) {
    const meter = globalThis.OhmTeam.meters[field.meter.value];
    /** @type {Object<string, Object<string, Resting>>} */
    const places = {};
    readings.forEach((reading) => {
      const { row, rOhm } = reading;
      if (inIceWater(reading) || (placesKnown && (!row.place || alone(row)))) return;
      const resting = places[row.place] || (places[row.place] = {});
      const shown = taken(rOhm, { tC: 20, meter });
      resting[row.id] = {
        grid: row.grid, rOhm: shown.rOhm, meterHalfOhm: shown.meterHalfOhm, allowK: row.allowK,
        meterSpanOhm: shown.meterSpanOhm,
      };
    });
    return places;
  }

  /** In ice water a sensor is not at rest with the machine.
   * @param {Reading} reading */
  function inIceWater({ elsewhere, typed }) { return elsewhere && typed.how === "ice-water"; }

  function judge() {
    const readings = read();
    const shortOhm = globalThis.OhmTeam.short_ohm;
    const places = restingAt(readings);
    const rested = Object.keys(places).sort();
    /** @type {Object<string, Standing>} */
    const standings = {};
    const centres = rested.map((place) => {
      const { centreC, standing } = atRest(places[place], { shortOhm });
      Object.assign(standings, standing);
      return centreC;
    });
    found = readings.map((reading) => sayRow(reading, standings[reading.row.id]));
    says.textContent = "";
    rested.forEach((place, i) => {
      const { state, why, word } = summary(found.filter(({ row }) => row.place === place), centres[i]);
      says.append(verdictBox(state, place ? `${capital(place)}: ${why}` : why, word));
    });
    sayExchanged(exchanged(rested.map((place) => places[place]), { shortOhm }));
    clear.hidden = !found.length;
    copyKeys().forEach((key) => { key.disabled = !found.length; });
  }

  /** @param {Reading} reading @returns {{state: ?string, words: string[]}} against a thermometer */
  function alongThermometer({ row, tC, typed, elsewhere }) {
    const words = [`at ${sayT(tC || 0)}${elsewhere ? " as typed on its page" : ""}`];
    try {
      const { verdict } = judgeTyped({ curve: row.curve, allow_k: row.allowK }, {
        at: String(tC), how: typed.how, reading: row.input.value, meter: field.meter.value,
        thermometer: field.thermometer.value,
      });
      if (verdict.tImpliedC !== null) words.push(`reads as at ${sayT(verdict.tImpliedC)}`);
      return { state: verdict.verdict, words };
    } catch (outside) {
      if (!(outside instanceof OutOfRange)) throw outside;
      return { state: null, words: [outside.message] };
    }
  }

  /** @param {Reading} reading @param {Standing|undefined} standing @returns {Found} */
  function sayRow(reading, standing) {
    /** @type {string[]} */
    const words = [];
    let state = standing ? standing.state : null;
    if (reading.tC !== null) {
      const own = alongThermometer(reading);
      state = own.state || state;
      words.push(...own.words);
    } else if (standing && standing.tImpliedC !== null) {
      words.push(`reads as at ${sayT(standing.tImpliedC)}`);
    }
    const among = standingWords(standing, { state, inIceWater: inIceWater(reading) });
    if (among) words.push(among);
    const text = words.length ? `${capital(words.join(", "))}.` : "";
    reading.row.says.append(state ? verdictBadge(state) : "", (state ? ". " : "") + text);
    const said = (state ? `${verdictWord(state)}. ` : "") + text;
    return { ...reading, label: reading.row.label, standing, said };
  }

  /** What stands out twice may be two plugs put back the wrong way round.
   * @param {string[][]} pairs */
  function sayExchanged(pairs) {
    if (!pairs.length) return;
    const labelOf = (/** @type {string} */ id) =>
      rows.filter((row) => row.id === id).map(({ label }) => label).join("");
    const named = pairs.map((pair) => pair.map(labelOf).join(" and "));
    says.append(verdictBox("undecided", `${named.join(", or ")}: each reads what the other should. ` +
      "Look whether their plugs are exchanged before you replace either.", "Plugs exchanged?"));
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
      rows: found.map(({ row, tC, typed, said }) => ({
        sensor: row.id, label: row.label, reading: row.input.value.trim().replace(/\s+/g, " "),
        tC, how: tC === null ? null : typed.how || null, said,
      })),
      together: parts(says, ".ohm-verdict").map((box) => {
        const word = part(box, ".ohm-verdict-word").lastChild;
        return `${((word && word.textContent) || "").trim()}. ` +
          (part(box, ".ohm-verdict-why").textContent || "");
      }).join(" "),
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
  field["round-at"].addEventListener("input", typedTemperature);
  [field["round-how"], field.meter, field.thermometer].forEach((choice) => {
    choice.addEventListener("change", typedTemperature);
  });
  copyKeys().forEach((key) => {
    key.addEventListener("click", () => {
      if (key.dataset.copy === "text") copyText(copied, roundText(round()), "The round as text");
      else copyText(copied, roundCase(round()), "The round as a case entry");
    });
  });
  clear.addEventListener("click", () => {
    rows.forEach(({ id, input }) => {
      kept.keep(id, null);
      input.value = "";
    });
    field["round-at"].value = "";
    remember(KEY, null);
    copied.hidden = true;
    judge();
    rows[0].input.focus();
  });
  document.addEventListener("ohm:unit", judge);
  openForm(form);
  judge();
}

const form = formOf("round");
if (form) roundForm(form);
