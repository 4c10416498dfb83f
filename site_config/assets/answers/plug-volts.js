// Volts at a sensor's plug: does the board see a sound sensor? Mirrors kb/answers/plug_volts.py.

import { measurement } from "../numbers/instruments.js";
import {
  PULL_UP_SHARE, SUPPLY_SHARE, VOLTMETER_SHARE, sensorAtPlug, voltmeterHalfV,
} from "../numbers/plug-volts.js";
import { judgeTyped, notNeeded } from "./judged.js";
import { ohmDigits } from "../numbers/ohm-digits.js";
import { comparedHeadline } from "./reading.js";
import { Refusal, statement } from "./statement.js";

/**
 * @typedef {import("./judged.js").Judged} Judged
 * @typedef {import("./judged.js").SensorFacts} SensorFacts
 * @typedef {import("./statement.js").Statement} Statement
 * @typedef {import("../numbers/plug-volts.js").PlugReading} PlugReading
 * volts: at the plug, plugged in and powered; supply: with nothing in it, or nothing for the notes'
 * word; at may be empty.
 * @typedef {{sensor: SensorFacts, volts: string, supply?: string, at?: string, unit?: string,
 *   tools: import("./tools.js").Tools, shortOhm?: ?number}} PlugQuestion
 * @typedef {{state: string, unit: string, tC: ?number, shownV: number, digits: number,
 *   plug: PlugReading, verdict: import("../numbers/verdict.js").Verdict, headline: Statement,
 *   means: Statement, restsOn: Statement, beside: Statement[], next: Statement,
 *   cautions: string[]}} PlugAnswer
 */

const CAUTIONS = ["live-work", "maker-first"];
/** So far off the notes, what a board feeds is itself a fault. */
const SUPPLY_OFF_SHARE = 0.1;
const VOLTS = /^-?(\d*)(?:[.,](\d*))? ?(m?)V?$/i;

/** @param {PlugQuestion} question @returns {PlugAnswer}
 * @throws {Refusal} a field unreadable, the board not known, or its volts above what it feeds */
export function answerPlugVolts(question) {
  const { sensor, supply = "", at = "", unit = "C", tools, shortOhm = null } = question;
  const { pullUpOhm = null, supplyV: notedV = null } = sensor;
  if (pullUpOhm === null || notedV === null) {
    throw new Refusal(statement("volts.no-board"), { field: "volts" });
  }
  const [shownV, halfV] = typedVolts(question.volts, "volts");
  const [supplyV, supplyHalfV] = supply.trim() ? typedVolts(supply, "supply")
    : [notedV, notedV * SUPPLY_SHARE];
  if (supplyV <= supplyHalfV) throw new Refusal(statement("volts.no-supply"), { field: "supply" });
  const plug = sensorAtPlug(shownV, { halfV, supplyV, supplyHalfV, pullUpOhm });
  if (!plug) {
    throw new Refusal(statement("volts.above-supply", { shown_v: shownV, supply_v: supplyV }),
      { field: "volts" });
  }
  const shown = measurement({
    rOhm: plug.rOhm, tC: 0, meterHalfOhm: plug.halfOhm, meterSpanOhm: plug.reachOhm,
  });
  const judged = judgeTyped(sensor, shown, { at, unit, tools, shortOhm });
  const figures = { shown_v: shownV, supply_v: supplyV, pull_up_ohm: pullUpOhm };
  const state = judged.verdict.verdict;
  return {
    state,
    unit: judged.at ? judged.at.unit : unit,
    tC: judged.at ? judged.at.tC : null,
    shownV, digits: ohmDigits(sensor.curve), plug, verdict: judged.verdict,
    headline: headlineOf(judged, figures),
    means: plug.rOhm === 0 || plug.rOhm === Infinity ? statement("volts.means-end", figures)
      : statement("volts.means", { ...figures, r_ohm: plug.rOhm }),
    restsOn: restsOn(Boolean(supply.trim())),
    beside: notNeeded(judged),
    next: nextOf(state, supplyV, notedV),
    cautions: CAUTIONS,
  };
}

/** Whatever the sensor does, a board that feeds something else is first.
 * @param {string} state @param {number} supplyV @param {number} notedV @returns {Statement} */
function nextOf(state, supplyV, notedV) {
  if (Math.abs(supplyV - notedV) > SUPPLY_OFF_SHARE * notedV) {
    return statement("volts.next-supply", { supply_v: supplyV, noted_v: notedV });
  }
  return statement(`volts.next-${["within", "undecided"].includes(state) ? state : "wrong"}`);
}

/** @param {string} text @param {string} field
 * @returns {[number, number]} volts, whichever way round the tips were, and their half-width */
export function typedVolts(text, field) {
  const tidy = text.replace(/[−–]/g, "-").trim();
  if (!tidy) throw new Refusal(statement("volts.missing"), { field, missing: true });
  const found = VOLTS.exec(tidy);
  if (!found || !(found[1] || found[2])) {
    throw new Refusal(statement("volts.unreadable", { typed: text }), { field });
  }
  const [, whole, part = "", milli] = found;
  const times = milli ? 1e-3 : 1;
  const volts = Number(`${whole || "0"}.${part || "0"}`) * times;
  // Typed without decimals the last place is a tenth all the same: nobody reads whole volts here.
  const decimals = part.length || (milli ? 0 : 1);
  return [volts, voltmeterHalfV(volts, { digitV: Math.pow(10, -decimals) * times })];
}

/** @param {Judged} judged @param {Object<string, number>} figures @returns {Statement} */
function headlineOf(judged, figures) {
  const state = judged.verdict.verdict;
  if (["open", "short", "off-curve"].includes(state)) return statement(`volts.${state}`, figures);
  return comparedHeadline(judged) || statement("volts.beyond", figures);
}

/** @param {boolean} measured whether somebody measured what the board feeds */
function restsOn(measured) {
  const figures = { voltmeter_share: VOLTMETER_SHARE, pull_up_share: PULL_UP_SHARE };
  return measured ? statement("volts.rests-on-measured", figures)
    : statement("volts.rests-on", { ...figures, supply_share: SUPPLY_SHARE });
}
