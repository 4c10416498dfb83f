// The curve page's table of every degree, built when somebody opens it, fifty degrees at a time.

import { gridOf } from "../numbers/grid.js";
import { formatOhm, formatOhmSpan } from "../numbers/rounding.js";
import { button, el, heading, scrolling } from "./element.js";
import { sayK, shownT } from "./figures.js";
import { unit } from "./unit.js";

/** @typedef {import("../numbers/grid.js").Grid} Grid */

const PIECE = 50;
/** So many rows more than a piece do not begin another. */
const SPARE = 10;

/** @param {HTMLDetailsElement} fold @param {Grid} grid */
function fineTable(fold, grid) {
  const body = el("div");
  const pieces = el("div", "ohm-keys");
  /** @type {?number} */
  let first = null;

  /** @param {number} tC */
  function fromC(tC) { return unit.now() === "F" ? Math.round(shownT(tC) * 1e6) / 1e6 : tC; }
  /** @param {number} shown */
  function toC(shown) { return unit.now() === "F" ? ((shown - 32) * 5) / 9 : shown; }
  /** @param {number} shown */
  function said(shown) { return String(shown).replace("-", "−"); }
  /** @param {[number, number]} piece */
  function name([from, to]) { return `${said(from)} to ${said(to)}`; }

  /** @returns {Array<[number, number]>} first and last whole degree of each piece, as shown */
  function cut() {
    const low = Math.ceil(fromC(grid.lowC) - 1e-9);
    const high = Math.floor(fromC(grid.highC) + 1e-9);
    if (high - low <= PIECE + SPARE) return [[low, high]];
    /** @type {Array<[number, number]>} */
    const found = [];
    for (let from = Math.floor(low / PIECE) * PIECE; from < high; from += PIECE) {
      found.push([Math.max(from, low), Math.min(from + PIECE, high)]);
    }
    return found;
  }

  function offer() {
    const all = cut();
    pieces.replaceChildren();
    if (all.length > 1) {
      all.forEach((piece) => {
        pieces.append(button(name(piece), () => show(piece), "ohm-key"));
      });
    }
    const home = all.find((piece) => fromC(20) >= piece[0] && fromC(20) <= piece[1]);
    show(home || all[0]);
  }

  /** @param {[number, number]} piece */
  function show(piece) {
    first = piece[0];
    const caption = `${fold.dataset.name}, every degree from ${name(piece)} °${unit.now()}`;
    const rows = el("tbody");
    for (let shown = piece[0]; shown <= piece[1]; shown++) rows.append(row(shown));
    const heads = ["At", "Expect"].concat(grid.tol ? ["Within", "±"] : []);
    const table = el("table", "ohm-table",
      el("caption", null, caption),
      el("thead", null,
        el("tr", null, ...heads.map((words) => heading("col", words)))),
      rows);
    body.replaceChildren(scrolling(caption, table));
    Array.from(pieces.children).forEach((key) => {
      key.setAttribute("aria-pressed", String(key.textContent === name(piece)));
    });
  }

  /** @param {number} shown */
  function row(shown) {
    // The first and the last may be a rounding error outside.
    const tC = Math.min(Math.max(toC(shown), grid.lowC), grid.highC);
    const made = el("tr", null,
      heading("row", `${said(shown)}\u00a0°${unit.now()}`),
      el("td", null, el("strong", null, formatOhm(grid.ohm(tC)))));
    if (grid.tol) {
      made.append(
        el("td", null, formatOhmSpan(grid.low(tC), grid.high(tC))),
        el("td", null, sayK(grid.tolK(tC))));
    }
    return made;
  }

  fold.addEventListener("toggle", () => { if (fold.open && first === null) offer(); });
  document.addEventListener("ohm:unit", () => { if (first !== null) offer(); });
  fold.append(pieces, body);
  fold.hidden = false;
}

/** @type {?HTMLDetailsElement} */
const fold = document.querySelector('details[data-calc="fine-table"]');
const grid = fold && gridOf(fold.dataset.curve || "");
if (grid) fineTable(fold, grid);
