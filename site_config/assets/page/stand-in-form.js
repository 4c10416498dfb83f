// Stand-in resistors: what to plug in place of a sensor, and what the board should then show.

import { voltsAtPlug } from "../numbers/divider.js";
import { gridOf } from "../numbers/grid.js";
import { formatOhm, formatVolts } from "../numbers/rounding.js";
import { standIns } from "../numbers/stand-in.js";
import { el } from "./element.js";
import { accept, readField, refuse, temperatureField } from "./fields.js";
import { sayK, sayT } from "./figures.js";

function standInForm(form, grid) {
  const BEST = 3;
  const WIRED = { series: " one after the other", parallel: " side by side" };
  const told = form.dataset;
  const answer = form.querySelector("output");
  const field = form.elements;
  const at = temperatureField(form, "stand-at", look);

  function look() {
    accept(field["stand-at"], answer);
    if (!field["stand-at"].value.trim()) { refuse(answer, "Type a temperature.", field["stand-at"]); return; }
    const tC = readField(field["stand-at"], answer, at.read);
    if (tC === null) return;
    if (!grid.holds(tC)) {
      refuse(answer, `The curve holds from ${sayT(grid.lowC)} to ${sayT(grid.highC)}` +
        ". Outside there is no answer.", field["stand-at"]);
      return;
    }
    const found = standIns(grid, { tC, series: field.series.value, best: BEST });
    answer.replaceChildren(
      el("p", null, `The sensor itself would be ${formatOhm(grid.ohm(tC))} there.`),
      list("One resistor", found.singles), list("Two resistors", found.pairs));
  }

  function list(title, nearest) {
    if (!nearest.length) {
      return el("p", null, `${title}: none in this series reaches it.`);
    }
    return el("div", null, el("h3", null, title),
      el("ul", "ohm-stand-ins", ...nearest.map(one)));
  }

  function one(standIn) {
    const off = sayK(standIn.errorK);
    const line = el("li", null,
      el("strong", null, standIn.partsOhm.map((r) => plain(r)).join(" and ")),
      `${WIRED[standIn.wired] || ""}: shows ${sayT(standIn.showsC)} (${standIn.errorK > 0 ? "+" : ""}${off})`);
    if (told.pullUp) {
      line.append(", " + formatVolts(voltsAtPlug(standIn.rOhm, {
        supplyV: Number(told.supply), pullUpOhm: Number(told.pullUp),
      })) + " at the plug");
    }
    return line;
  }

  /** A resistor's own value has no more than two digits that count. */
  function plain(rOhm) { return formatOhm(rOhm, 2); }

  field["stand-at"].addEventListener("input", look);
  field.series.addEventListener("change", look);
  form.addEventListener("submit", (event) => { event.preventDefault(); });
  form.hidden = false;
  // Many pairs are tried: the first answer waits until the page itself can be used.
  setTimeout(look);
}

const form = document.querySelector('[data-calc="stand-in"]');
const grid = form && gridOf(form.dataset.curve);
if (grid) standInForm(form, grid);
