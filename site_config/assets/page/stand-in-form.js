// Stand-in resistors: what to plug in place of a sensor, and what the board should then show.

import { answerStandIn } from "../answers/stand-in.js";
import { Refusal } from "../answers/statement.js";
import { gridOf } from "../numbers/grid.js";
import { phraseAround, inWords, sentence } from "../words/phrase.js";
import { el, part } from "./element.js";
import {
  accept, fieldsOf, formOf, openForm, refuse, temperatureField,
} from "./fields.js";
import { unit } from "./unit.js";

/** @typedef {import("../numbers/grid.js").Grid} Grid */
/** @typedef {import("../answers/stand-in.js").StandInAnswer} StandInAnswer */
/** @typedef {import("../answers/stand-in.js").StoodIn} StoodIn */
/** @typedef {import("../words/phrase.js").Voice} Voice */

/** @param {HTMLFormElement} form @param {Grid} curve */
function standInForm(form, curve) {
  const { curve: curveId = "", supply, pullUp } = form.dataset;
  const answer = part(form, "output");
  /** @type {{"stand-at": HTMLInputElement, series: HTMLSelectElement}} */
  const field = fieldsOf(form);
  const board = supply && pullUp ? { supplyV: Number(supply), pullUpOhm: Number(pullUp) } : null;
  temperatureField(form, "stand-at", show);

  function show() {
    accept(field["stand-at"], answer);
    try {
      showFound(answerStandIn({
        curve, curveId, at: field["stand-at"].value, unit: unit.now(), series: field.series.value,
        board,
      }));
    } catch (refused) {
      if (!(refused instanceof Refusal)) throw refused;
      refuse(answer, sentence(refused.statement, { unit: unit.now() }), field["stand-at"]);
    }
  }

  /** @param {StandInAnswer} found */
  function showFound({ headline, reads, board: feeds, singles, pairs, spread, digits }) {
    const voice = { unit: unit.now(), digits };
    const paragraph = (/** @type {?import("../answers/statement.js").Statement} */ finding) =>
      (finding ? [el("p", null, sentence(finding, voice))] : []);
    answer.replaceChildren(
      el("p", null, el("strong", null, sentence(headline, voice))),
      ...paragraph(reads), ...paragraph(feeds),
      ...listOf(inWords("resistors.one"), singles, voice), ...listOf(inWords("resistors.two"), pairs, voice),
      ...paragraph(spread));
  }

  field["stand-at"].addEventListener("input", show);
  field.series.addEventListener("change", show);
  openForm(form);
  // Many pairs are tried: the first answer waits until the page itself can be used.
  setTimeout(show);
}

/** @param {string} title @param {StoodIn[]} nearest @param {Voice} voice @returns {HTMLElement[]} */
function listOf(title, nearest, voice) {
  if (!nearest.length) return [];
  return [el("h3", null, title),
    el("ul", "ohm-stand-ins", ...nearest.map(({ statement }) => {
      const [before, figure, behind] = phraseAround(statement, "resistors", voice);
      return el("li", null, before, el("strong", null, figure), behind);
    }))];
}

const form = formOf("stand-in");
const grid = form && gridOf(form.dataset.curve || "");
if (form && grid) standInForm(form, grid);
