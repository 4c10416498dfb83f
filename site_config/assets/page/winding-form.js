// The part page's winding form: are the windings alike, and are they what the maker says?

import {
  meterBesideOhm, meterDigitOhm, meterHalfOhm, meterSpanOhm,
} from "../numbers/instruments.js";
import { parseReading } from "../numbers/notation.js";
import { formatDeparture, formatOhmTo, formatPercent, formatSpread } from "../numbers/rounding.js";
import { WINDING_HALF_K, windingValue } from "../numbers/winding-value.js";
import { windingBalance } from "../numbers/winding.js";
import { el, heading, scrolling } from "./element.js";
import { accept, readField, refuse, temperatureField } from "./fields.js";
import { sayK, sayT } from "./figures.js";
import { keptFor } from "./kept.js";
import { verdictBox } from "./verdict-box.js";

function windingForm(form) {
  const told = JSON.parse(form.dataset.windings);
  const kept = keptFor(`part.${form.dataset.part}`);
  const field = form.elements;
  const answer = form.querySelector("output");
  const more = form.querySelector(".ohm-more");
  const clear = form.querySelector("[data-clear]");
  const at = temperatureField(form, "winding-at", typed);
  // Only equal windings are held against each other; a start winding is not the run winding.
  const alike = told.pairs.length > 1 && told.pairs.every((one) => one.ohm === told.pairs[0].ohm);
  const rows = told.pairs.map((pair, i) => {
    const input = field[`winding-${i + 1}`];
    return { pair, input, says: document.getElementById(`${input.id}-says`) };
  });

  function recall() {
    const before = kept.of("windings");
    rows.forEach((row) => { row.input.value = (before.readings || {})[row.pair.leads] || ""; });
    if (before.at !== undefined) { at.show(Number(before.at)); }
  }

  function typed() {
    const readings = {};
    rows.forEach((row) => {
      if (row.input.value.trim()) { readings[row.pair.leads] = row.input.value.trim(); }
    });
    let tC;
    try { tC = String(at.read()); } catch (unreadable) { /* said by look */ }
    kept.keep("windings", Object.keys(readings).length ? { at: tC, readings } : null);
    look();
  }

  function look() {
    const meter = globalThis.OhmTeam.meters[field["winding-meter"].value];
    more.replaceChildren();
    answer.replaceChildren();
    accept(field["winding-at"], answer);
    clear.hidden = !rows.some((row) => row.input.value.trim());
    const read = rows.map(readRow).filter(Boolean);
    if (!read.length) { answer.textContent = "Read every pair of leads."; return; }
    const tC = readField(field["winding-at"], answer, at.read);
    if (tC === null) return;
    if (tC < -40 || tC > 150) {
      refuse(answer, `A winding at ${sayT(tC, 0)} is not cold. Let it cool, then read.`, field["winding-at"]);
      return;
    }
    // Nothing is taken off for the meter's leads: the method has them zeroed, or taken off by hand.
    const taken = read.map((one) => {
      const rOhm = one.rOhm > meterSpanOhm(meter) ? Infinity : one.rOhm;
      return { leads: one.row.pair.leads, part: one.row.pair.ohm, rOhm, halfOhm: meterHalfOhm(meter, rOhm),
        digitOhm: meterDigitOhm(meter, rOhm) };
    });
    const nothing = taken.filter((one) => one.rOhm === 0);
    if (nothing.length) {
      answer.replaceChildren(verdictBox("short", nothing.map(leadsOf).join(", ") +
        " reads nothing: shorted, or far below what this meter can read."));
      return;
    }
    show(taken, tC, meter);
  }

  function readRow(row) {
    row.says.replaceChildren();
    accept(row.input, row.says);
    if (!row.input.value.trim()) return null;
    const rOhm = readField(row.input, row.says, parseReading);
    return rOhm === null ? null : { row, rOhm };
  }

  function leadsOf(one) { return one.leads; }

  function show(taken, tC, meter) {
    const values = taken.map((one) => {
      return windingValue(one.rOhm, {
        halfOhm: one.halfOhm, tC, partOhm: one.part, partC: told.at_c, constant: told.constant,
        allowedShare: told.tolerance_percent ? told.tolerance_percent / 100 : null,
      });
    });
    let balance = null;
    if (alike && taken.length > 1) {
      const beside = meterBesideOhm(meter, taken.map((one) => one.rOhm));
      taken.forEach((one, i) => { one.besideOhm = beside[i]; });
      balance = windingBalance(by(taken, "rOhm"), {
        halfWidthsOhm: by(taken, "besideOhm"), tC, constant: told.constant,
        allowedShare: told.balance_percent ? told.balance_percent / 100 : null,
      });
      if (balance.state !== "open") { answer.append(sayBalance(balance)); }
    }
    answer.append(sayValues(taken, values));
    if (alike && taken.length < told.pairs.length) {
      answer.append(el("p", null, `Read every pair: ${told.pairs.length - taken.length} to go.`));
    }
    more.append(table(taken, values, balance));
    if (balance && balance.state !== "open") {
      more.append(el("p", "ohm-hint", "Alike or not compares readings of one meter on one range within a minute, and nothing " +
        "else: there one digit of it counts. The maker's value needs its whole accuracy."));
    }
    more.append(el("p", "ohm-hint", `Brought to 20 °C with the constant ${told.constant} for ${told.metal}` +
      ". Even windings do not prove a motor: insulation, bearings and a short between turns stay open."));
  }

  function by(taken, what) {
    return taken.reduce((found, one) => { found[one.leads] = one[what]; return found; }, {});
  }

  function sayBalance(balance) {
    const spread = formatSpread(balance.worstShare);
    const worst = spread.charAt(0).toUpperCase() + spread.slice(1);
    switch (balance.state) {
      case "within": return verdictBox("within", `${worst}; ${told.balance_percent}\u00a0% is allowed.`, "Alike");
      case "outside": return verdictBox("outside", `${worst}; ${told.balance_percent}\u00a0% is allowed.`, "Not alike");
      case "undecided": return verdictBox("undecided", `${worst}, but one digit of this meter is too coarse to decide: use one that shows a digit more.`, "Not decided");
      default: return verdictBox("undecided", `${worst}. Nobody noted how much is allowed.`, "No limit noted");
    }
  }

  function sayValues(taken, values) {
    function those(state) {
      return taken.filter((one, i) => values[i].state === state).map(leadsOf).join(", ");
    }
    if (those("open")) { return verdictBox("open", `${those("open")}: over range. The winding or its lead is broken, or a protector inside is open: a hot shell may take hours to close it.`); }
    if (those("outside")) { return verdictBox("outside", `${those("outside")}: not what the maker gives for it.`, "Not the maker's value"); }
    if (those("undecided")) { return verdictBox("undecided", `${those("undecided")}: too close to call with this meter and a temperature known to ± ${sayK(WINDING_HALF_K)}.`, "Maker's value: not decided"); }
    if (those("within")) { return verdictBox("within", `Every reading is within ${told.tolerance_percent}\u00a0% of the maker's value.`, "The maker's value"); }
    return el("p", null, "Nobody noted how far the maker's value may be off.");
  }

  function table(taken, values, balance) {
    const heads = ["Leads", "At 20 °C", "Maker's", "Off"].concat(balance && balance.state !== "open" ? ["From mean"] : []);
    const body = el("tbody");
    taken.forEach((one, i) => {
      const line = el("tr", null, heading("row", one.leads),
        el("td", null, formatOhmTo(values[i].at20Ohm, one.digitOhm)),
        el("td", null, formatOhmTo(values[i].partAt20Ohm, one.digitOhm)),
        el("td", null, values[i].state === "open" ? "–" : `${formatDeparture(values[i].offShare)} ± ${formatPercent(values[i].uncertaintyShare)}`));
      if (balance && balance.state !== "open") {
        const winding = balance.windings[one.leads];
        line.append(el("td", null, `${formatDeparture(winding.offShare)} ± ${formatPercent(winding.uncertaintyShare)}`));
      }
      body.append(line);
    });
    return scrolling("The windings at 20 °C", el("table", "ohm-table",
      el("caption", null, "The windings at 20 °C"), el("thead", null,
        el("tr", null, ...heads.map((words) => heading("col", words)))), body));
  }

  recall();
  rows.forEach((row) => { row.input.addEventListener("input", typed); });
  field["winding-at"].addEventListener("input", typed);
  field["winding-meter"].addEventListener("change", look);
  clear.addEventListener("click", () => {
    rows.forEach((row) => { row.input.value = ""; });
    typed();
    rows[0].input.focus();
  });
  form.addEventListener("submit", (event) => { event.preventDefault(); });
  form.hidden = false;
  look();
}

const form = document.querySelector('[data-calc="winding"]');
if (form) windingForm(form);
