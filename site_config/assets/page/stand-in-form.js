// Stand-in resistors: what to plug in place of a sensor, and what the board should then show.

import { voltsAtPlug } from "../numbers/divider.js";
import { gridOf } from "../numbers/grid.js";
import { formatOhm, formatVolts } from "../numbers/rounding.js";
import { standIns } from "../numbers/stand-in.js";
import { el, part } from "./element.js";
import {
  accept, fieldsOf, formOf, openForm, readWithin, refuse, temperatureField,
} from "./fields.js";
import { sayK, sayT } from "./figures.js";

/** @typedef {import("../numbers/grid.js").Grid} Grid */
/** @typedef {import("../numbers/stand-in.js").StandIn} StandIn */

const BEST = 3;
/** @type {Object<string, string>} */
const WIRED = { series: " one after the other", parallel: " side by side" };

/** @param {HTMLFormElement} form @param {Grid} grid */
function standInForm(form, grid) {
  const told = form.dataset;
  const answer = part(form, "output");
  /** @type {{"stand-at": HTMLInputElement, series: HTMLSelectElement}} */
  const field = fieldsOf(form);
  const at = temperatureField(form, "stand-at", look);

  function look() {
    accept(field["stand-at"], answer);
    if (!field["stand-at"].value.trim()) {
      refuse(answer, "Type a temperature.", field["stand-at"]);
      return;
    }
    const tC = readWithin(field["stand-at"], answer, { read: at.read, lowC: grid.lowC, highC: grid.highC });
    if (tC === null) return;
    const found = standIns(grid, { tC, series: field.series.value, best: BEST });
    answer.replaceChildren(
      el("p", null, `The sensor itself would be ${formatOhm(grid.ohm(tC))} there.`),
      list("One resistor", found.singles), list("Two resistors", found.pairs));
  }

  /** @param {string} title @param {StandIn[]} nearest */
  function list(title, nearest) {
    if (!nearest.length) {
      return el("p", null, `${title}: none in this series reaches it.`);
    }
    return el("div", null, el("h3", null, title),
      el("ul", "ohm-stand-ins", ...nearest.map(line)));
  }

  /** @param {StandIn} standIn */
  function line({ partsOhm, wired, rOhm, showsC, errorK }) {
    // A resistor's own value has no more than two digits that count.
    const resistors = partsOhm.map((partOhm) => formatOhm(partOhm, 2)).join(" and ");
    const off = `${errorK > 0 ? "+" : ""}${sayK(errorK)}`;
    return el("li", null, el("strong", null, resistors),
      `${WIRED[wired] || ""}: shows ${sayT(showsC)} (${off})`, told.pullUp ? atPlug(rOhm) : null);
  }

  /** @param {number} rOhm */
  function atPlug(rOhm) {
    const board = { supplyV: Number(told.supply), pullUpOhm: Number(told.pullUp) };
    return `, ${formatVolts(voltsAtPlug(rOhm, board))} at the plug`;
  }

  field["stand-at"].addEventListener("input", look);
  field.series.addEventListener("change", look);
  openForm(form);
  // Many pairs are tried: the first answer waits until the page itself can be used.
  setTimeout(look);
}

const form = formOf("stand-in");
const grid = form && gridOf(form.dataset.curve || "");
if (grid) standInForm(form, grid);
