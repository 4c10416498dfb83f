// Each pair of leads as a row: what was read, brought to 20 °C, beside the others and beside its entry.

import { formatDeparture, formatOhmTo, formatPercent } from "../numbers/rounding.js";
import { capital, nameOf } from "../words/phrase.js";
import { el, heading, scrolling } from "./element.js";

/** @typedef {import("../answers/winding.js").WindingAnswer} WindingAnswer */

const COLUMNS = ["read", "at-20", "off-mean", "off-entry"];

/** @param {WindingAnswer} found @returns {HTMLElement} columns that hold nothing left out */
export function windingTable(found) {
  const lines = Object.keys(found.pairs).map((pair) => ({ pair, cells: cellsOf(found, pair) }));
  const kept = COLUMNS.map((_, i) => i).filter((i) => lines.some(({ cells }) => cells[i]));
  const name = (/** @type {string} */ column) => capital(nameOf("winding-column", column));
  const head = el("tr", null, heading("col", name("leads")),
    ...kept.map((i) => heading("col", name(COLUMNS[i]))));
  const body = el("tbody", null, ...lines.map(({ pair, cells }) =>
    el("tr", null, heading("row", pair), ...kept.map((i) => el("td", null, cells[i])))));
  const caption = name("caption");
  return scrolling(caption, el("table", "ohm-table", el("caption", null, caption),
    el("thead", null, head), body));
}

/** @param {WindingAnswer} found @param {string} pair @returns {string[]} one for each column */
function cellsOf({ pairs, balances }, pair) {
  const { rOhm, digitOhm, at20Ohm, offShare, uncertaintyShare } = pairs[pair];
  const held = balances.map(({ windings }) => windings[pair]).find(Boolean);
  return [
    formatOhmTo(rOhm, digitOhm),
    at20Ohm === null ? "" : formatOhmTo(at20Ohm, digitOhm),
    held ? departure(held.offShare, held.uncertaintyShare) : "",
    departure(offShare, uncertaintyShare),
  ];
}

/** @param {?number} offShare @param {?number} uncertaintyShare */
function departure(offShare, uncertaintyShare) {
  if (offShare === null || uncertaintyShare === null) return "";
  return `${formatDeparture(offShare)} ± ${formatPercent(uncertaintyShare)}`;
}
