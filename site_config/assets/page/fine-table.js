// The curve page's table of every degree, built when somebody opens it, fifty degrees at a time.

import { degreePieces, degreeRows, homePiece } from "../answers/fine-table.js";
import { gridOf } from "../numbers/grid.js";
import { formatOhm } from "../numbers/rounding.js";
import { ohmSpan, inWords } from "../words/phrase.js";
import { button, el, heading, scrolling } from "./element.js";
import { sayK } from "./figures.js";
import { unit } from "./unit.js";

/** @typedef {import("../numbers/grid.js").Grid} Grid */
/** @typedef {import("../answers/fine-table.js").Piece} Piece */
/** @typedef {import("../answers/curve-lookup.js").LookedUp} LookedUp */

/** @param {HTMLDetailsElement} fold @param {Grid} grid */
function fineTable(fold, grid) {
  const body = el("div");
  const pieces = el("div", "ohm-keys");
  let open = false;

  function offer() {
    const all = degreePieces(grid, unit.now());
    pieces.replaceChildren();
    if (all.length > 1) {
      all.forEach((piece) => {
        pieces.append(button(nameOfPiece(piece), () => show(piece), "ohm-key"));
      });
    }
    show(homePiece(all, unit.now()));
  }

  /** @param {Piece} piece */
  function show(piece) {
    open = true;
    const caption = inWords("fine.caption",
      { curve: fold.dataset.name, ...ends(piece), sign: `°${unit.now()}` });
    const heads = [inWords("fine.at"), inWords("fine.expect")]
      .concat(grid.toleranceKnown ? [inWords("fine.within"), "±"] : []);
    const table = el("table", "ohm-table ohm-figures",
      el("caption", null, caption),
      el("thead", null,
        el("tr", null, ...heads.map((words) => heading("col", words)))),
      el("tbody", null, ...degreeRows(grid, piece, unit.now()).map(({ degree, point }) =>
        row(degree, point))));
    body.replaceChildren(scrolling(caption, table));
    Array.from(pieces.children).forEach((key) => {
      key.setAttribute("aria-pressed", String(key.textContent === nameOfPiece(piece)));
    });
  }

  fold.addEventListener("toggle", () => { if (fold.open && !open) offer(); });
  document.addEventListener("ohm:unit", () => { if (open) offer(); });
  fold.append(pieces, body);
  fold.hidden = false;
}

/** @param {number} degree */
function signed(degree) { return String(degree).replace("-", "−"); }

/** @param {Piece} piece */
function ends([from, to]) { return { from: signed(from), to: signed(to) }; }

/** @param {Piece} piece */
function nameOfPiece(piece) { return inWords("fine.piece", ends(piece)); }

/** @param {number} degree @param {LookedUp} point */
function row(degree, { rOhm, lowOhm, highOhm, tolK, digits }) {
  const made = el("tr", null,
    heading("row", `${signed(degree)}\u00a0°${unit.now()}`),
    el("td", null, el("strong", null, formatOhm(rOhm, digits))));
  if (lowOhm !== null && highOhm !== null && tolK !== null) {
    made.append(
      el("td", null, ohmSpan(lowOhm, highOhm, digits)),
      el("td", null, sayK(tolK)));
  }
  return made;
}

/** @type {?HTMLDetailsElement} */
const fold = document.querySelector('details[data-calc="fine-table"]');
const grid = fold && gridOf(fold.dataset.curve || "");
if (fold && grid) fineTable(fold, grid);
