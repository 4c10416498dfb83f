// The sensor page's form: temperature and reading in, verdict out, as you type.

import { judgeTyped } from "../answers/reading.js";
import { voltsAtPlug } from "../numbers/divider.js";
import { explain } from "../numbers/explanations.js";
import { gridOf } from "../numbers/grid.js";
import { parseReading } from "../numbers/notation.js";
import { formatVolts } from "../numbers/rounding.js";
import { expectedOhm } from "../numbers/verdict.js";
import { el, facts, part } from "./element.js";
import {
  accept, fieldsOf, formOf, openForm, readField, readWithin, refuse, rememberedChoice,
  temperatureField,
} from "./fields.js";
import { sayK, sayOhm, sayT } from "./figures.js";
import { keptFor } from "./kept.js";
import { verdictBox } from "./verdict-box.js";
import { sayExplanation, saySettling, sayVerdict } from "./verdict-words.js";

/** @typedef {import("../numbers/grid.js").Grid} Grid */
/** @typedef {import("../answers/reading.js").Judged} Judged */

/** @param {HTMLFormElement} form @param {Grid} grid */
function judgeForm(form, grid) {
  const told = form.dataset;
  const kept = keptFor(told.family || "");
  const answer = part(form, "output");
  const more = part(form, ".ohm-more");
  const clear = part(form, "[data-clear]");
  /** @type {{at: HTMLInputElement, reading: HTMLInputElement, how: HTMLSelectElement,
   *   meter: HTMLSelectElement, thermometer: HTMLSelectElement, when: RadioNodeList}} */
  const field = fieldsOf(form);
  const sensor = { curve: told.curve || "", allow_k: Number(told.allowK) };
  const pullUp = told.pullUp ? Number(told.pullUp) : null;
  /** @type {Object<string, string>} The family's other curves → the label of a sensor that has it */
  const labels = {};
  /** @type {Object<string, Grid>} */
  const others = {};
  JSON.parse(told.others || "[]").forEach((/** @type {{curve: string, label: string}} */ other) => {
    const curve = gridOf(other.curve);
    if (!curve) return;
    others[other.curve] = curve;
    labels[other.curve] = other.label;
  });
  const at = temperatureField(form, "at", (why) => {
    if (why === "unit") judge();
    else typed();
  });

  /** A reading before the repair and one after it are kept apart. */
  function place() { return `${told.sensor}${field.when.value === "after" ? "@after" : ""}`; }

  /** Put back what was typed for this sensor before, here or in the round of its family. */
  function recall() {
    const before = kept.of(place());
    if (before.at !== undefined) at.show(Number(before.at));
    if (before.how) field.how.value = before.how;
    field.reading.value = before.reading || "";
    clear.hidden = !before.reading;
  }

  function keep() {
    const reading = field.reading.value.trim();
    clear.hidden = !reading;
    kept.keep(place(), reading ? {
      at: readable(),
      how: field.how.value,
      reading,
      meter: field.meter.value,
      thermometer: field.thermometer.value,
    } : null);
  }

  /** @returns {string|undefined} the temperature in °C, as it is kept */
  function readable() {
    try { return String(at.read()); } catch (unreadable) { return undefined; }
  }

  function typed() {
    keep();
    judge();
  }

  function judge() {
    more.replaceChildren();
    [field.at, field.reading].forEach((one) => { accept(one, answer); });
    if (!field.at.value.trim()) {
      refuse(answer, "Type the temperature at the sensor.", field.at);
      return;
    }
    const tC = readWithin(field.at, answer, { read: at.read, lowC: grid.lowC, highC: grid.highC });
    if (tC === null) return;
    if (!field.reading.value.trim()) {
      expect(tC);
      return;
    }
    const rOhm = readField(field.reading, answer, parseReading, ", or OL for over range");
    if (rOhm !== null) show(tC);
  }

  /** No reading yet: say what to expect.
   * @param {number} tC */
  function expect(tC) {
    const lines = [el("p", "ohm-expect", el("span", null, "Expect "),
      el("strong", "ohm-answer-main", sayOhm(grid, grid.ohm(tC))), ` at ${sayT(tC)}`)];
    if (grid.tol) {
      lines.push(el("p", null, `A new part reads ${sayOhm(grid, grid.low(tC), grid.high(tC))}.`));
    }
    if (sensor.allow_k > grid.tolK(tC)) {
      const band = expectedOhm(grid, tC, sensor.allow_k);
      lines.push(el("p", null, `The machine accepts ${sayOhm(grid, band.lowOhm, band.highOhm)}` +
        ` (± ${sayK(sensor.allow_k)}).`));
    }
    if (pullUp) {
      const volts = voltsAtPlug(grid.ohm(tC), { supplyV: Number(told.supply), pullUpOhm: pullUp });
      lines.push(el("p", null, `Plugged in and powered, its plug carries ${formatVolts(volts)}.`));
    }
    answer.replaceChildren(...lines);
  }

  /** @param {number} tC */
  function show(tC) {
    let judged;
    try {
      judged = judgeTyped(sensor, {
        at: String(tC), how: field.how.value, reading: field.reading.value,
        meter: field.meter.value, thermometer: field.thermometer.value,
      });
    } catch (outside) {
      // A thermometer has a range of its own.
      if (!(outside instanceof Error)) throw outside;
      refuse(answer, `${outside.message}.`);
      return;
    }
    say(judged);
  }

  /** @param {Judged} judged */
  function say(judged) {
    const { verdict } = judged;
    const settle = saySettling(verdict);
    const next = nextStep(verdict.verdict);
    const lines = [verdictBox(verdict.verdict, sayVerdict(verdict, judged))];
    if (settle) lines.push(el("p", "ohm-settle", settle));
    if (next) lines.push(el("p", "ohm-next", el("strong", null, "Next: "), next));
    answer.replaceChildren(...lines);
    const also = explained(judged);
    if (also.length) {
      more.append(el("p", null, el("strong", null, "It would also fit: ")),
        el("ul", null, ...also));
    }
    more.append(facts([
      ["Expected", sayOhm(grid, verdict.lowOhm, verdict.highOhm)],
      ["Reads as at", verdict.tImpliedC === null ? "" : sayT(verdict.tImpliedC)],
      ["Error", verdict.errorK === null ? "" : sayK(verdict.errorK)],
      ["Limit", `± ${sayK(verdict.limitK)}`],
      ["Uncertainty", verdict.uncertaintyK === null ? "" : `± ${sayK(verdict.uncertaintyK)}`],
    ]));
  }

  /** What follows: after a repair a good reading is proved, not looked into.
   * @param {string} verdict @returns {?string} */
  function nextStep(verdict) {
    if (verdict === "undecided") return null;
    if (verdict === "within") {
      return field.when.value === "after"
        ? "Clear the code, watch what its page says to watch, and gather the job below."
        : told.good || null;
    }
    /** @type {Object<string, string|undefined>} */
    const known = { open: told.open, short: told.short };
    return known[verdict] || told.bad || null;
  }

  /** @param {Judged} judged
   * @returns {HTMLElement[]} the other explanations that fit, each with its number */
  function explained({ measured, verdict }) {
    if (verdict.verdict === "within" || verdict.verdict === "undecided") return [];
    return explain(grid, measured, { allowK: sensor.allow_k, pullUpOhm: pullUp, others })
      .map((explanation) => el("li", null, sayExplanation(explanation, (id) => labels[id])));
  }

  [field.how, field.meter, field.thermometer].forEach(rememberedChoice);
  recall();
  [field.at, field.reading].forEach((input) => { input.addEventListener("input", typed); });
  [field.how, field.meter, field.thermometer].forEach((choice) => {
    choice.addEventListener("change", typed);
  });
  field.when.forEach((way) => {
    way.addEventListener("change", () => {
      recall();
      judge();
    });
  });
  clear.addEventListener("click", () => {
    field.reading.value = "";
    typed();
    field.reading.focus();
  });
  openForm(form);
  judge();
}

const form = formOf("judge");
const grid = form && gridOf(form.dataset.curve || "");
if (grid) judgeForm(form, grid);
