// The curve page's form: resistance from temperature, temperature from resistance, a marker on the
// chart.

import { ohmAt, temperatureOf } from "../answers/curve-lookup.js";
import { Refusal } from "../answers/statement.js";
import { gridOf } from "../numbers/grid.js";
import { formatOhm } from "../numbers/rounding.js";
import { inWords, sentence } from "../words/phrase.js";
import { mark, unmark } from "./chart-marker.js";
import { el, mainFigure, part } from "./element.js";
import {
  accept, fieldsOf, formOf, openForm, refuse, temperatureField,
} from "./fields.js";
import { sayApart, sayT } from "./figures.js";
import { unit } from "./unit.js";

/** @typedef {import("../numbers/grid.js").Grid} Grid */
/** @typedef {import("../answers/curve-lookup.js").LookedUp} LookedUp */

/** @param {HTMLFormElement} form @param {Grid} grid */
function curveForm(form, grid) {
  const answer = part(form, "output");
  temperatureField(form, "at", (why) => {
    if (why === "unit") show(); else fromTemperature();
  });
  /** @type {{at: HTMLInputElement, reading: HTMLInputElement}} */
  const field = fieldsOf(form);

  /** What was typed last leads: a temperature takes the resistance away. */
  function fromTemperature() {
    field.reading.value = "";
    show();
  }

  function show() {
    [field.at, field.reading].forEach((input) => accept(input, answer));
    const on = { curve: grid, curveId: form.dataset.curve || "", unit: unit.now() };
    const turned = Boolean(field.reading.value.trim());
    try {
      const point = turned ? temperatureOf(field.reading.value, on) : ohmAt(field.at.value, on);
      showPoint(point, turned);
      const words = `${formatOhm(point.rOhm, point.digits)}, ${sayT(point.tC)}`;
      mark(point, words, `± ${sayApart(point.tolK || 0)}`);
    } catch (refused) {
      if (!(refused instanceof Refusal)) throw refused;
      const asked = turned ? field.reading : field.at;
      refuse(answer, sentence(refused.statement, { unit: unit.now() }),
        refused.missing ? undefined : asked);
      unmark();
    }
  }

  /** @param {LookedUp} point @param {boolean} turned true while the resistance leads */
  function showPoint({ tC, rOhm, digits, statements }, turned) {
    const [main, at] = turned ? [sayT(tC), formatOhm(rOhm, digits)]
      : [formatOhm(rOhm, digits), sayT(tC)];
    answer.replaceChildren(
      mainFigure(main), " ", el("span", null, inWords("curve.at", { shown: at })),
      ...statements.map((finding) => el("p", null, sentence(finding, { unit: unit.now(), digits }))));
  }

  field.at.addEventListener("input", fromTemperature);
  field.reading.addEventListener("input", show);
  openForm(form);
  show();
}

const form = formOf("both-ways");
const grid = form && gridOf(form.dataset.curve || "");
if (form && grid) curveForm(form, grid);
