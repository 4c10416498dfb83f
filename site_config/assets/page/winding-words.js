// Say how windings compare: with each other, and with what their maker gives. No arithmetic here.

import { formatDeparture, formatOhmTo, formatPercent, formatSpread } from "../numbers/rounding.js";
import { WINDING_HALF_K } from "../numbers/winding-value.js";
import { el, heading, scrolling } from "./element.js";
import { sayK } from "./figures.js";
import { verdictBox } from "./verdict-box.js";

/**
 * What the notes say of a part's windings.
 * @typedef {{pairs: Array<{leads: string, ohm: number}>, at_c: number, constant: number,
 *   metal: string, tolerance_percent: ?number, balance_percent: ?number}} WindingsOfPart
 * @typedef {{leads: string, partOhm: number, rOhm: number, halfOhm: number,
 *   digitOhm: number}} ReadWinding
 * @typedef {ReturnType<typeof import("../numbers/winding.js").windingBalance>} Balance
 * @typedef {ReturnType<typeof import("../numbers/winding-value.js").windingValue>} Value
 */

/** @param {Balance} balance of windings none of which is open @param {WindingsOfPart} told
 * @returns {HTMLElement} */
export function sayBalance({ state, worstShare }, told) {
  const spread = formatSpread(worstShare || 0);
  const worst = spread.charAt(0).toUpperCase() + spread.slice(1);
  const allowed = `${worst}; ${told.balance_percent}\u00a0% is allowed.`;
  switch (state) {
    case "within":
      return verdictBox("within", allowed, "Alike");
    case "outside":
      return verdictBox("outside", allowed, "Not alike");
    case "undecided":
      return verdictBox("undecided", `${worst}, but one digit of this meter is too coarse to ` +
        "decide: use one that shows a digit more.", "Not decided");
    default:
      return verdictBox("undecided", `${worst}. Nobody noted how much is allowed.`, "No limit noted");
  }
}

/** @param {ReadWinding[]} read @param {Value[]} values of each @param {WindingsOfPart} told
 * @returns {HTMLElement} the worst of them */
export function sayValues(read, values, told) {
  const those = (/** @type {string} */ state) => read
    .filter((_, i) => values[i].state === state).map(({ leads }) => leads).join(", ");
  if (those("open")) {
    return verdictBox("open", `${those("open")}: over range. The winding or its lead is broken, or ` +
      "a protector inside is open: a hot shell may take hours to close it.");
  }
  if (those("outside")) {
    return verdictBox("outside", `${those("outside")}: not what the maker gives for it.`,
      "Not the maker's value");
  }
  if (those("undecided")) {
    return verdictBox("undecided", `${those("undecided")}: too close to call with this meter and a ` +
      `temperature known to ± ${sayK(WINDING_HALF_K)}.`, "Maker's value: not decided");
  }
  if (those("within")) {
    return verdictBox("within",
      `Every reading is within ${told.tolerance_percent}\u00a0% of the maker's value.`,
      "The maker's value");
  }
  return el("p", null, "Nobody noted how far the maker's value may be off.");
}

/** @param {number} share @param {number} uncertaintyShare */
function departure(share, uncertaintyShare) {
  return `${formatDeparture(share)} ± ${formatPercent(uncertaintyShare)}`;
}

/** @param {ReadWinding[]} read @param {Value[]} values of each
 * @param {?Balance} balance null where they are not held against each other
 * @returns {HTMLElement} */
export function windingTable(read, values, balance) {
  const heads = ["Leads", "At 20 °C", "Maker's", "Off"].concat(balance ? ["From mean"] : []);
  const rows = read.map(({ leads, digitOhm }, i) => {
    const { at20Ohm, partAt20Ohm, state, offShare, uncertaintyShare } = values[i];
    const row = el("tr", null, heading("row", leads),
      el("td", null, formatOhmTo(at20Ohm, digitOhm)),
      el("td", null, formatOhmTo(partAt20Ohm, digitOhm)),
      el("td", null, state === "open" ? "–" : departure(offShare, uncertaintyShare)));
    if (balance) {
      const winding = balance.windings[leads];
      row.append(el("td", null, departure(winding.offShare || 0, winding.uncertaintyShare || 0)));
    }
    return row;
  });
  const head = el("tr", null, ...heads.map((words) => heading("col", words)));
  return scrolling("The windings at 20 °C", el("table", "ohm-table",
    el("caption", null, "The windings at 20 °C"), el("thead", null, head),
    el("tbody", null, ...rows)));
}
