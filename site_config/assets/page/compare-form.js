// The curve page's comparison: another curve at the same temperature, fetched when it is chosen.

import { compareCurves } from "../answers/comparison.js";
import { Refusal } from "../answers/statement.js";
import { gridOf } from "../numbers/grid.js";
import { formatOhm } from "../numbers/rounding.js";
import { phrase, inWords, wordsAround, sentence } from "../words/phrase.js";
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
      fail() { refuse(answer, inWords("compare.not-here")); },
    });
    answer.textContent = inWords("compare.moment");
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
    const apart = el("strong", "ohm-answer-main", inWords("compare.apart", { shown: sayApart(here.byK) }));
    answer.replaceChildren(
      el("p", null, ...wordsAround("compare.apart-at", { apart, t_c: sayT(here.atC) })),
      facts([
        [inWords("compare.this"), formatOhm(here.oneOhm, digits)],
        [name, formatOhm(here.otherOhm, digits)],
        [inWords("compare.difference"), phrase(difference, voice)],
        [inWords("compare.board"), phrase(board, voice)],
        [inWords("compare.most"), phrase(furthest, voice)],
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
