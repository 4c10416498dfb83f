// The part page's winding form: are the windings alike, and are they what the maker says?

import {
  meterBesideOhm, meterDigitOhm, meterHalfOhm, meterSpanOhm,
} from "../numbers/instruments.js";
import { parseReading } from "../numbers/notation.js";
import { windingValue } from "../numbers/winding-value.js";
import { windingBalance } from "../numbers/winding.js";
import { el, part } from "./element.js";
import {
  accept, fieldsOf, formOf, openForm, readField, refuse, temperatureField,
} from "./fields.js";
import { sayT } from "./figures.js";
import { keptFor } from "./kept.js";
import { verdictBox } from "./verdict-box.js";
import { sayBalance, sayValues, windingTable } from "./winding-words.js";

/** @typedef {import("../numbers/instruments.js").Meter} Meter */
/** @typedef {import("./winding-words.js").ReadWinding} ReadWinding */
/** @typedef {import("./winding-words.js").WindingsOfPart} WindingsOfPart */
/** A pair of leads, where its reading is typed and where what is wrong with it is said.
 * @typedef {{pair: {leads: string, ohm: number}, input: HTMLInputElement,
 *   says: HTMLElement}} Row */

/** A winding outside these is not cold: a motor that ran, or a slip of the pen. */
const COLD_C = { low: -40, high: 150 };

/** @param {HTMLFormElement} form */
function windingForm(form) {
  /** @type {WindingsOfPart} */
  const told = JSON.parse(form.dataset.windings || "{}");
  const kept = keptFor(`part.${form.dataset.part}`);
  const field = fieldsOf(form);
  /** @type {HTMLInputElement} */
  const atInput = field["winding-at"];
  /** @type {HTMLSelectElement} */
  const meterChoice = field["winding-meter"];
  const answer = part(form, "output");
  const more = part(form, ".ohm-more");
  const clear = part(form, "[data-clear]");
  const at = temperatureField(form, "winding-at", typed);
  // Only equal windings are held against each other; a start winding is not the run winding.
  const alike = told.pairs.length > 1 && told.pairs.every(({ ohm }) => ohm === told.pairs[0].ohm);
  /** @type {Row[]} */
  const rows = told.pairs.map((pair, i) => {
    /** @type {HTMLInputElement} */
    const input = field[`winding-${i + 1}`];
    return { pair, input, says: part(form, `#${input.id}-says`) };
  });

  function recall() {
    const { at: tC, readings = {} } = kept.of("windings");
    rows.forEach(({ pair, input }) => { input.value = readings[pair.leads] || ""; });
    if (tC !== undefined) at.show(Number(tC));
  }

  function typed() {
    /** @type {Object<string, string>} */
    const readings = {};
    rows.forEach(({ pair, input }) => {
      const reading = input.value.trim();
      if (reading) readings[pair.leads] = reading;
    });
    let tC;
    try { tC = String(at.read()); } catch (unreadable) { /* said by look */ }
    kept.keep("windings", Object.keys(readings).length ? { at: tC, readings } : null);
    look();
  }

  function look() {
    more.replaceChildren();
    answer.replaceChildren();
    accept(atInput, answer);
    clear.hidden = !rows.some(({ input }) => input.value.trim());
    const read = readRows();
    if (!read.length) {
      answer.textContent = "Read every pair of leads.";
      return;
    }
    const tC = readField(atInput, answer, at.read);
    if (tC === null) return;
    if (tC < COLD_C.low || tC > COLD_C.high) {
      refuse(answer, `A winding at ${sayT(tC, 0)} is not cold. Let it cool, then read.`, atInput);
      return;
    }
    const nothing = read.filter(({ rOhm }) => rOhm === 0);
    if (nothing.length) {
      answer.replaceChildren(verdictBox("short", nothing.map(({ leads }) => leads).join(", ") +
        " reads nothing: shorted, or far below what this meter can read."));
      return;
    }
    show(read, tC);
  }

  /** @returns {Meter} */
  function meter() { return globalThis.OhmTeam.meters[meterChoice.value]; }

  /** @returns {ReadWinding[]} those that can be read; what is wrong with another is said beside it */
  function readRows() {
    /** @type {ReadWinding[]} */
    const read = [];
    rows.forEach(({ pair, input, says }) => {
      says.replaceChildren();
      accept(input, says);
      if (!input.value.trim()) return;
      const typedOhm = readField(input, says, parseReading);
      if (typedOhm === null) return;
      // Nothing is taken off for the meter's leads: the method has them zeroed, or taken off by hand.
      const rOhm = typedOhm > meterSpanOhm(meter()) ? Infinity : typedOhm;
      read.push({
        leads: pair.leads, partOhm: pair.ohm, rOhm, halfOhm: meterHalfOhm(meter(), rOhm),
        digitOhm: meterDigitOhm(meter(), rOhm),
      });
    });
    return read;
  }

  /** @param {ReadWinding[]} read @param {number} tC */
  function balanceOf(read, tC) {
    if (!alike || read.length < 2) return null;
    const besideOhm = meterBesideOhm(meter(), read.map(({ rOhm }) => rOhm));
    /** @type {Object<string, number>} */
    const readingsOhm = {};
    /** @type {Object<string, number>} */
    const halfWidthsOhm = {};
    read.forEach(({ leads, rOhm }, i) => {
      readingsOhm[leads] = rOhm;
      halfWidthsOhm[leads] = besideOhm[i];
    });
    return windingBalance(readingsOhm, {
      halfWidthsOhm, tC, constant: told.constant,
      allowedShare: told.balance_percent ? told.balance_percent / 100 : null,
    });
  }

  /** @param {ReadWinding[]} read @param {number} tC */
  function show(read, tC) {
    const values = read.map(({ rOhm, halfOhm, partOhm }) => windingValue(rOhm, {
      halfOhm, tC, partOhm, partC: told.at_c, constant: told.constant,
      allowedShare: told.tolerance_percent ? told.tolerance_percent / 100 : null,
    }));
    const balance = balanceOf(read, tC);
    const balanced = balance && balance.state !== "open" ? balance : null;
    if (balanced) answer.append(sayBalance(balanced, told));
    answer.append(sayValues(read, values, told));
    if (alike && read.length < told.pairs.length) {
      answer.append(el("p", null, `Read every pair: ${told.pairs.length - read.length} to go.`));
    }
    more.append(windingTable(read, values, balanced));
    if (balanced) {
      more.append(el("p", "ohm-hint", "Alike or not compares readings of one meter on one range " +
        "within a minute, and nothing else: there one digit of it counts. The maker's value needs " +
        "its whole accuracy."));
    }
    more.append(el("p", "ohm-hint", `Brought to 20 °C with the constant ${told.constant} for ` +
      `${told.metal}. Even windings do not prove a motor: insulation, bearings and a short between ` +
      "turns stay open."));
  }

  recall();
  rows.forEach(({ input }) => { input.addEventListener("input", typed); });
  atInput.addEventListener("input", typed);
  meterChoice.addEventListener("change", look);
  clear.addEventListener("click", () => {
    rows.forEach(({ input }) => { input.value = ""; });
    typed();
    rows[0].input.focus();
  });
  openForm(form);
  look();
}

const form = formOf("winding");
if (form) windingForm(form);
