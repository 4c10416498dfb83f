// The curve page's comparison: another curve at the same temperature, fetched when it is chosen.

import { apart, mostApart, sharedRange } from "../numbers/curve-pair.js";
import { gridOf } from "../numbers/grid.js";
import { formatOhm } from "../numbers/rounding.js";
import { bringScript, el, facts } from "./element.js";
import { accept, readField, refuse, temperatureField } from "./fields.js";
import { sayApart, sayT } from "./figures.js";

function compareForm(form, grid) {
  const answer = form.querySelector("output");
  const field = form.elements;
  const at = temperatureField(form, "compare-at", compare);

  function chosen() { return field.other.selectedOptions[0]; }

  /** A page opened from a folder may not fetch, but it may add a script. */
  function bring(option) {
    bringScript(option.dataset.later, {
      load: compare,
      fail() { refuse(answer, "That curve is not on this phone. Open the page again when it is."); },
    });
    answer.textContent = "One moment.";
  }

  function compare() {
    accept(field["compare-at"], answer);
    const option = chosen();
    if (!option.value) { answer.replaceChildren(); return; }
    const other = gridOf(option.value);
    if (!other) { bring(option); return; }
    const shared = sharedRange(grid, other);
    if (!shared) { refuse(answer, "The two curves share no temperature."); return; }
    const tC = readField(field["compare-at"], answer, at.read);
    if (tC === null) return;
    if (tC < shared.lowC || tC > shared.highC) {
      refuse(answer, `Both curves hold from ${sayT(shared.lowC)} to ${sayT(shared.highC)}` +
        ". Outside there is no answer.", field["compare-at"]);
      return;
    }
    say(apart(grid, { other, tC }), mostApart(grid, { other }), option.textContent);
  }

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

  function difference(here) {
    return here.otherOhm === here.oneOhm ? "none"
      : `${formatOhm(Math.abs(here.otherOhm - here.oneOhm))}, the other ` +
        (here.otherOhm > here.oneOhm ? "higher" : "lower");
  }

  function shows(here) {
    return here.byK === 0 ? "shows the truth"
      : `shows ${sayApart(here.byK)} too ${here.byK > 0 ? "hot" : "cold"} with the other`;
  }

  field["compare-at"].addEventListener("input", compare);
  field.other.addEventListener("change", compare);
  form.addEventListener("submit", (event) => { event.preventDefault(); });
  form.hidden = false;
  compare();
}

const form = document.querySelector('[data-calc="compare"]');
const grid = form && gridOf(form.dataset.curve);
if (grid) compareForm(form, grid);
