// The curve page's form: resistance from temperature, temperature from resistance, a marker on the
// chart.

import { gridOf } from "../numbers/grid.js";
import { parseOhm } from "../numbers/notation.js";
import { formatOhm } from "../numbers/rounding.js";
import { mark, unmark } from "./chart-marker.js";
import { el, part } from "./element.js";
import {
  accept, fieldsOf, formOf, openForm, readField, readWithin, refuse, temperatureField,
} from "./fields.js";
import { sayK, sayOhm, sayT } from "./figures.js";

/** @typedef {import("../numbers/grid.js").Grid} Grid */

/** @param {HTMLFormElement} form @param {Grid} grid */
function curveForm(form, grid) {
  const answer = part(form, "output");
  const at = temperatureField(form, "at", (why) => {
    if (why === "unit" && turned) fromReading();
    else fromTemperature();
  });
  /** @type {{at: HTMLInputElement, reading: HTMLInputElement}} */
  const field = fieldsOf(form);
  let turned = false; // true while the resistance leads

  /** @param {number} tC @param {number} rOhm */
  function say(tC, rOhm) {
    answer.replaceChildren(
      el("strong", "ohm-answer-main", turned ? sayT(tC) : sayOhm(grid, rOhm)),
      el("span", null, ` at ${turned ? formatOhm(rOhm) : sayT(tC)}`));
    if (grid.tol) {
      answer.append(el("p", null,
        `A good part reads ${sayOhm(grid, grid.low(tC), grid.high(tC))}` +
        ` there: ± ${sayK(grid.tolK(tC))}.`));
    }
    mark(tC, rOhm);
  }

  /** @param {string} words @param {HTMLElement} [input] */
  function noAnswer(words, input) {
    refuse(answer, words, input);
    unmark();
  }

  function acceptBoth() {
    [field.at, field.reading].forEach((one) => { accept(one, answer); });
  }

  function fromTemperature() {
    turned = false;
    field.reading.value = "";
    acceptBoth();
    if (!field.at.value.trim()) {
      noAnswer("Type a temperature or a resistance.");
      return;
    }
    const { lowC, highC } = grid;
    const holding = "This curve holds";
    const tC = readWithin(field.at, answer, { read: at.read, lowC, highC, holding });
    if (tC === null) unmark();
    else say(tC, grid.ohm(tC));
  }

  function fromReading() {
    if (!field.reading.value.trim()) {
      fromTemperature();
      return;
    }
    turned = true;
    acceptBoth();
    const rOhm = readField(field.reading, answer, parseOhm);
    if (rOhm === null) {
      unmark();
      return;
    }
    if (!(rOhm >= grid.lowOhm && rOhm <= grid.highOhm)) {
      noAnswer(`This curve runs from ${formatOhm(grid.lowOhm)} to ` +
        `${formatOhm(grid.highOhm)}. ${formatOhm(rOhm)} is off it.`, field.reading);
      return;
    }
    say(grid.tC(rOhm), rOhm);
  }

  field.at.addEventListener("input", fromTemperature);
  field.reading.addEventListener("input", fromReading);
  openForm(form);
  fromTemperature();
}

const form = formOf("both-ways");
const grid = form && gridOf(form.dataset.curve || "");
if (grid) curveForm(form, grid);
