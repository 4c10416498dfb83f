// The curve page's comparison: another curve at the same temperature, fetched when it is chosen.

import { apart, mostApart, sharedRange } from "../numbers/curve-pair.js";
import { gridOf } from "../numbers/grid.js";
import { formatOhm } from "../numbers/rounding.js";
import { bringScript, el, facts, part } from "./element.js";
import {
  accept, fieldsOf, formOf, openForm, readWithin, refuse, temperatureField,
} from "./fields.js";
import { sayApart, sayT } from "./figures.js";

/** @typedef {import("../numbers/grid.js").Grid} Grid */
/** @typedef {import("../numbers/curve-pair.js").Apart} Apart */

/** @param {HTMLFormElement} form @param {Grid} grid */
function compareForm(form, grid) {
  const answer = part(form, "output");
  /** @type {{"compare-at": HTMLInputElement, other: HTMLSelectElement}} */
  const field = fieldsOf(form);
  const at = temperatureField(form, "compare-at", compare);

  function chosen() { return field.other.selectedOptions[0]; }

  /** @param {HTMLOptionElement} option */
  function bring(option) {
    bringScript(option.dataset.later || "", {
      load: compare,
      fail() { refuse(answer, "That curve is not on this phone. Open the page again when it is."); },
    });
    answer.textContent = "One moment.";
  }

  function compare() {
    accept(field["compare-at"], answer);
    const option = chosen();
    if (!option.value) {
      answer.replaceChildren();
      return;
    }
    const other = gridOf(option.value);
    if (!other) {
      bring(option);
      return;
    }
    const shared = sharedRange(grid, other);
    const most = mostApart(grid, { other });
    if (!shared || !most) {
      refuse(answer, "The two curves share no temperature.");
      return;
    }
    const within = { read: at.read, ...shared, holding: "Both curves hold" };
    const tC = readWithin(field["compare-at"], answer, within);
    if (tC === null) return;
    say(apart(grid, { other, tC }), most, option.text);
  }

  /** @param {Apart} here @param {Apart} most @param {string} name of the other curve */
  function say(here, most, name) {
    answer.replaceChildren(
      el("p", null, el("strong", "ohm-answer-main", `${sayApart(here.byK)} apart`), ` at ${sayT(here.atC)}`),
      facts([
        ["This curve", formatOhm(here.oneOhm)],
        [name, formatOhm(here.otherOhm)],
        ["Difference", difference(here)],
        ["A board for this curve", shows(here)],
        ["Most apart", `${sayApart(most.byK)} at ${sayT(most.atC)}: ` +
          `${formatOhm(most.oneOhm)} and ${formatOhm(most.otherOhm)}`],
      ]));
  }

  /** @param {Apart} here */
  function difference(here) {
    return here.otherOhm === here.oneOhm ? "none"
      : `${formatOhm(Math.abs(here.otherOhm - here.oneOhm))}, the other ` +
        (here.otherOhm > here.oneOhm ? "higher" : "lower");
  }

  /** @param {Apart} here */
  function shows(here) {
    return here.byK === 0 ? "shows the truth"
      : `shows ${sayApart(here.byK)} too ${here.byK > 0 ? "hot" : "cold"} with the other`;
  }

  field["compare-at"].addEventListener("input", compare);
  field.other.addEventListener("change", compare);
  openForm(form);
  compare();
}

const form = formOf("compare");
const grid = form && gridOf(form.dataset.curve || "");
if (grid) compareForm(form, grid);
