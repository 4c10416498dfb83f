// The family page's round: one reading per sensor, one temperature per resting place if there is
// one, what each place says. Fields in, the floor of answers asked, the job told.

import { answerRound } from "../answers/round.js";
import { statement } from "../answers/statement.js";
import { ICE } from "../answers/typed.js";
import { JOB_EVENT } from "../job/changed.js";
import { liveJob } from "../job/jobs.js";
import { temperatureAt } from "../job/temperatures.js";
import { remembered } from "../look.js";
import { gridOf } from "../numbers/grid.js";
import { capital, nameOf, phrase } from "../words/phrase.js";
import { today } from "./clock.js";
import { copyText } from "./copied.js";
import { button, el, part, parts } from "./element.js";
import { fieldsOf, formOf, openForm, rememberedChoice } from "./fields.js";
import { placedTemperature } from "./placed-temperature.js";
import { clearRound, keepRoundReading, putBackRound, roundReadings } from "./round-job.js";
import {
  firstSentence, roundSentences, rowFinding, showPlace, showReference, showRound, showRow,
} from "./round-says.js";
import { roundCase, roundText } from "./round-text.js";
import { teamShortOhm, toolsOf } from "./team.js";
import { unit } from "./unit.js";

/** @typedef {import("../answers/round.js").RoundAnswer} RoundAnswer */
/** @typedef {import("./placed-temperature.js").PlacedTemperature} PlacedTemperature */
/** @typedef {import("./round-says.js").RowFields} RowFields */
/** @typedef {import("./round-text.js").TextPlace} TextPlace */
/** A place of the form with its lines and the fields of its temperature.
 * @typedef {{key: string, name: string, rows: RowFields[], input: HTMLInputElement,
 *   ways: RadioNodeList, fold: HTMLDetailsElement, refused: HTMLElement, says: HTMLElement,
 *   at: PlacedTemperature}} PlaceFields */
/** @typedef {{meter: HTMLSelectElement, thermometer: HTMLSelectElement,
 *   "round-when": RadioNodeList}} RoundFields */

class RoundForm {
  /** @param {HTMLFormElement} form */
  constructor(form) {
    this.form = form;
    this.family = form.dataset.family || "";
    /** @type {RoundFields} */
    this.field = fieldsOf(form);
    this.says = part(form, ".ohm-round-says");
    this.clearKey = part(form, "[data-clear]");
    this.cleared = part(form, ".ohm-cleared");
    this.copied = part(form, ".ohm-copied");
    this.places = parts(form, ".ohm-place").map((section) => this.placeOf(section));
    /** Whose readings stand in the fields; nothing while no job is open. */
    this.job = "";
    this.writing = false;
    this.answer = this.ask();
  }

  /** @returns {RowFields[]} of all places */
  get rows() {
    return this.places.reduce((/** @type {RowFields[]} */ all, { rows }) => all.concat(rows), []);
  }

  /** @returns {boolean} whether this is a round after the repair */
  get after() { return this.field["round-when"].value === "after"; }

  /** @param {HTMLElement} section @returns {PlaceFields} */
  placeOf(section) {
    const { place: key = "", name = "", number = "" } = section.dataset;
    const [at, how] = [`round-at-${number}`, `round-how-${number}`];
    const fields = fieldsOf(this.form);
    return {
      key, name, rows: rowsOf(section), input: fields[at], ways: fields[how],
      fold: /** @type {HTMLDetailsElement} */ (part(section, "details")),
      refused: part(section, `#${at}-says`), says: part(section, ".ohm-place-says"),
      at: placedTemperature(this.form, {
        name: at, how, family: this.family, place: key, thermometer: "thermometer",
        offers: ({ how: way }) => way !== ICE,
        changed: (why) => (why === "unit" ? this.show() : this.typedTemperature(key)),
      }),
    };
  }

  /** @returns {RoundAnswer} */
  ask() {
    return answerRound({
      sensors: this.rows.map(({ sensor }) => sensor),
      readings: this.rows.map(({ sensor: { id }, input }) => ({ sensor: id, reading: input.value })),
      temperatures: this.places.map(({ key, at }) =>
        ({ place: key, at: at.text(), placement: at.how() })),
      unit: unit.now(), shortOhm: teamShortOhm(),
      tools: toolsOf({ meter: this.field.meter.value, thermometer: this.field.thermometer.value }),
    });
  }

  show() {
    this.answer = this.ask();
    const { rows, places, temperatures } = this.answer;
    this.rows.forEach((row) => showRow(row, rows.find(({ sensor }) => sensor === row.sensor.id)));
    this.places.forEach(({ key, input, refused, says }) => {
      showReference(input, refused, temperatures.find(({ place }) => place === key));
      showPlace(says, places.find(({ place }) => place === key));
    });
    showRound(this.says, this.answer);
    const readable = rows.some(({ refusal }) => !refusal);
    this.clearKey.hidden = !rows.length;
    this.copyKeys().forEach((key) => { key.disabled = !readable; });
  }

  /** @returns {HTMLButtonElement[]} */
  copyKeys() {
    return parts(this.form, "[data-copy]").map((key) => /** @type {HTMLButtonElement} */ (key));
  }

  /** Tell the job, and mind whose readings stand here from now on.
   * @param {PlaceFields} place @param {RowFields} row */
  keep({ key, at }, { sensor: { id }, input }) {
    const reading = input.value.trim();
    const taken = this.answer.temperatures.find(({ place }) => place === key);
    const temperature = taken && taken.tC !== null
      ? { at: String(taken.tC), how: at.how(), thermometer: this.field.thermometer.value } : {};
    const typed = { reading, meter: this.field.meter.value, place: key, ...temperature };
    this.writing = true;
    keepRoundReading(this.family, { sensor: id, after: this.after, typed: reading ? typed : null });
    this.writing = false;
    this.job = (liveJob(this.family) || { id: "" }).id;
  }

  /** @param {PlaceFields} place @param {RowFields} row */
  typedReading(place, row) {
    this.cleared.replaceChildren();
    this.show();
    this.keep(place, row);
  }

  /** A temperature goes with every reading of its place.
   * @param {string} key */
  typedTemperature(key) {
    this.show();
    this.places.filter((place) => place.key === key).forEach((place) => {
      place.rows.filter(({ input }) => input.value.trim()).forEach((row) => this.keep(place, row));
    });
  }

  /** The readings of all places were taken with these. */
  toolsChosen() {
    this.places.forEach(({ key }) => this.typedTemperature(key));
  }

  /** Put what the job knows of this round into the fields, and nothing else. */
  recall() {
    const readings = roundReadings(this.family, this.after);
    this.job = (liveJob(this.family) || { id: "" }).id;
    this.places.forEach((place) => {
      place.rows.forEach(({ sensor: { id }, input }) => {
        input.value = readingIn(readings, id);
      });
      const taken = place.rows.map(({ sensor: { id } }) => readings[id])
        .filter((measured) => measured && measured.typed.at !== undefined)
        .sort((a, b) => (a.time < b.time ? 1 : -1))[0];
      showTaken(place, taken ? taken.typed : null);
      const offered = temperatureAt(this.family, place.key);
      if (taken || (offered && offered.how !== ICE)) place.fold.open = true;
    });
    this.show();
  }

  /** Another job, or a reading that was taken out elsewhere: the fields follow. What was typed
   * while no job was open belongs to the job that begins with it. */
  follow() {
    if (this.writing) return;
    const job = liveJob(this.family);
    const id = job ? job.id : "";
    const begins = !this.job && this.places.some(({ at }) => !at.empty());
    if (id !== this.job && !begins) {
      this.cleared.replaceChildren();
      this.recall();
      return;
    }
    this.job = id;
    const readings = roundReadings(this.family, this.after);
    this.rows.forEach(({ sensor, input }) => {
      if (input !== document.activeElement) input.value = readingIn(readings, sensor.id);
    });
    this.show();
  }

  clear() {
    const removed = clearRound(this.family, this.after);
    this.copied.hidden = true;
    this.recall();
    const count = removed.length;
    const words = capital(phrase(statement(count === 1 ? "round.cleared-one" : "round.cleared", { count })));
    const putBack = button(nameOf("round-key", "put-back"), () => {
      putBackRound(this.family, removed);
      this.cleared.replaceChildren();
      this.recall();
      this.rows[0].input.focus();
    });
    this.cleared.replaceChildren(el("p", null, words), putBack);
    putBack.focus();
  }

  /** @returns {import("./round-text.js").RoundText} */
  text() {
    const { rows, places, first, exchange, temperatures } = this.answer;
    const { meter, thermometer } = this.field;
    return {
      family: this.family, name: this.form.dataset.name || "", on: today(),
      by: remembered("ohm.by") || "", after: this.after,
      meter: meter.value, meterName: meter.selectedOptions[0].text,
      thermometer: thermometer.value, thermometerName: thermometer.selectedOptions[0].text,
      together: roundSentences([...(first ? [firstSentence(first)] : []), ...(exchange ? [exchange] : [])]),
      places: this.places.reduce((/** @type {TextPlace[]} */ all, { key, name, at }) => {
        const found = places.find(({ place }) => place === key);
        if (!found) return all;
        return all.concat({
          name, how: at.how(),
          tC: temperatures.filter(({ place }) => place === key).map(({ tC }) => tC).concat(null)[0],
          rows: rows.filter(({ place, refusal }) => place === key && !refusal).map((row) => ({
            sensor: row.sensor, label: row.name, reading: this.readingOf(row.sensor),
            finding: rowFinding(row),
          })),
          together: `${capital(phrase(found.title))}. ${roundSentences(found.statements)}`,
          next: found.next.map((step) => roundSentences([step])),
        });
      }, []),
    };
  }

  /** @param {string} id @returns {string} as typed, in one line */
  readingOf(id) {
    return this.rows.filter(({ sensor }) => sensor.id === id)
      .map(({ input }) => input.value.trim().replace(/\s+/g, " ")).join("");
  }

  open() {
    const { meter, thermometer } = this.field;
    [meter, thermometer].forEach((choice) => {
      rememberedChoice(choice);
      choice.addEventListener("change", () => this.toolsChosen());
    });
    this.places.forEach((place) => place.rows.forEach((row) => {
      row.input.setAttribute("data-always-says", "");
      row.input.addEventListener("input", () => this.typedReading(place, row));
    }));
    this.field["round-when"].forEach((way) => way.addEventListener("change", () => {
      this.cleared.replaceChildren();
      this.recall();
    }));
    this.copyKeys().forEach((key) => key.addEventListener("click", () => {
      const name = key.dataset.copy === "text" ? "text" : "case";
      const written = name === "text" ? roundText(this.text()) : roundCase(this.text());
      copyText(this.copied, written, nameOf("round-key", name));
    }));
    this.clearKey.addEventListener("click", () => this.clear());
    document.addEventListener("ohm:unit", () => this.show());
    document.addEventListener(JOB_EVENT, () => this.follow());
    openForm(this.form);
    this.recall();
  }
}

/** @param {Object<string, import("../job/jobs.js").Measurement>} readings @param {string} sensor
 * @returns {string} as typed, nothing where it is not in the round */
const readingIn = (readings, sensor) => (readings[sensor] ? readings[sensor].typed.reading : "");

/** @param {PlaceFields} place @param {?Object<string, any>} typed of a reading there */
function showTaken({ at, input, ways }, typed) {
  if (typed) {
    at.show(Number(typed.at), typed.how);
    return;
  }
  input.value = "";
  ways.forEach((way) => { /** @type {HTMLInputElement} */ (way).checked = false; });
}

/** @param {HTMLElement} section @returns {RowFields[]} the sensors whose curve this page has brought */
function rowsOf(section) {
  /** @type {RowFields[]} */
  const rows = [];
  parts(section, "[data-facts]").forEach((li) => {
    const facts = JSON.parse(li.dataset.facts || "{}");
    const curve = gridOf(facts.curveId);
    if (!curve) return;
    const input = /** @type {HTMLInputElement} */ (part(li, "input"));
    rows.push({ sensor: { ...facts, curve }, input, says: part(li, ".ohm-round-state") });
  });
  return rows;
}

const form = formOf("round");
if (form) new RoundForm(form).open();
