// The curve page's comparison: another curve at the same temperature, fetched when it is chosen.

import { compareCurves } from "../answers/comparison.js";
import { Refusal } from "../answers/statement.js";
import { gridOf } from "../numbers/grid.js";
import { formatOhm } from "../numbers/rounding.js";
import { phrase, sentence } from "../words/phrase.js";
import { bringScript, el, facts, part } from "./element.js";
import {
  accept, fieldsOf, formOf, openForm, refuse, temperatureField,
} from "./fields.js";
import { sayApart, sayT } from "./figures.js";
import { unit } from "./unit.js";

/** @typedef {import("../numbers/grid.js").Grid} Grid */
/** @typedef {import("../answers/comparison.js").Comparison} Comparison */

/** @param {HTMLFormElement} form @param {Grid} grid */
function compareForm(form, grid) {
  const answer = part(form, "output");
  /** @type {{"compare-at": HTMLInputElement, other: HTMLSelectElement}} */
  const field = fieldsOf(form);
  temperatureField(form, "compare-at", show);

  /** @param {HTMLOptionElement} option */
  function bring(option) {
    bringScript(option.dataset.later || "", {
      load: show,
      fail() { refuse(answer, "That curve is not on this phone. Open the page again when it is."); },
    });
    answer.textContent = "One moment.";
  }

  function show() {
    accept(field["compare-at"], answer);
    const option = field.other.selectedOptions[0];
    if (!option.value) {
      answer.replaceChildren();
      return;
    }
    const other = gridOf(option.value);
    if (!other) {
      bring(option);
      return;
    }
    try {
      const text = field["compare-at"].value;
      showFound(compareCurves(text, { curve: grid, other, unit: unit.now() }), option.text);
    } catch (refused) {
      if (!(refused instanceof Refusal)) throw refused;
      refuse(answer, sentence(refused.statement, { unit: unit.now() }),
        refused.field === "at" ? field["compare-at"] : undefined);
    }
  }

  /** @param {Comparison} found @param {string} name of the other curve */
  function showFound({ here, digits, difference, board, furthest }, name) {
    const voice = { unit: unit.now(), digits };
    answer.replaceChildren(
      el("p", null, el("strong", "ohm-answer-main", `${sayApart(here.byK)} apart`), ` at ${sayT(here.atC)}`),
      facts([
        ["This curve", formatOhm(here.oneOhm, digits)],
        [name, formatOhm(here.otherOhm, digits)],
        ["Difference", phrase(difference, voice)],
        ["A board for this curve", phrase(board, voice)],
        ["Most apart", phrase(furthest, voice)],
      ]));
  }

  field["compare-at"].addEventListener("input", show);
  field.other.addEventListener("change", show);
  openForm(form);
  show();
}

const form = formOf("compare");
const grid = form && gridOf(form.dataset.curve || "");
if (form && grid) compareForm(form, grid);
