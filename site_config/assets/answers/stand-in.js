// Standard resistors in place of a sensor: what should the board then show, and how surely? Mirrors
// kb/answers/stand_in.py.

import { SERIES } from "../catalog.js";
import { voltsAtPlug } from "../numbers/divider.js";
import { standIns } from "../numbers/stand-in.js";
import { temperatureOn } from "./curve-lookup.js";
import { ohmDigits } from "../numbers/ohm-digits.js";
import { statement } from "./statement.js";

/**
 * @typedef {import("../numbers/grid.js").Grid} Grid
 * @typedef {import("../numbers/stand-in.js").StandIn} StandIn
 * @typedef {import("./statement.js").Statement} Statement
 * The board's side of the plug: volts through a pull-up.
 * @typedef {{supplyV: number, pullUpOhm: number}} BoardSide
 * Which temperature to stand for, as typed, out of which drawer.
 * @typedef {{curve: Grid, curveId: string, at: string, unit?: string, series: string,
 *   board?: ?BoardSide}} StandInQuestion
 * @typedef {{standIn: StandIn, volts: ?number, statement: Statement}} StoodIn
 * reads: what the sensor itself does; board: what is fed to it, where that is known; spread: how
 * far the resistor's own tolerance may move what the board shows.
 * @typedef {{unit: string, digits: number, tC: number, series: string, rOhm: number,
 *   volts: ?number, headline: Statement, reads: Statement, board: ?Statement,
 *   singles: StoodIn[], pairs: StoodIn[], spread: ?Statement, spreadK: ?number,
 *   cautions: string[]}} StandInAnswer
 */

/** What stands beside every stand-in, by id: isolating comes first. */
const CAUTIONS = ["stand-in-plug", "stand-in-mains", "stand-in-live", "stand-in-out", "maker-first"];

/** @param {StandInQuestion} question @returns {StandInAnswer} the resistors nearest to a temperature
 * @throws {Refusal} missing, unreadable, or not one the curve holds for */
export function answerStandIn(question) {
  const { curve, curveId, at, unit: bare, series, board = null } = question;
  const { tC, unit } = temperatureOn(at, { curve, curveId, unit: bare });
  const found = standIns(curve, { tC, series });
  const [singles, pairs] = [found.singles, found.pairs].map((kind) =>
    kind.map((each) => stoodIn(each, question)));
  const best = singles.concat(pairs)[0] || null;
  const rOhm = curve.ohm(tC);
  const volts = voltsOf(rOhm, board);
  const spreadK = best ? spreadOf(best.standIn, question) : null;
  return {
    unit, digits: ohmDigits(curve), tC, series, rOhm, volts,
    headline: headline(best, { series, tC }),
    reads: withVolts("stand-in.reads", { t_c: tC, r_ohm: rOhm }, volts),
    board: board && statement("stand-in.board",
      { supply_v: board.supplyV, pull_up_ohm: board.pullUpOhm }),
    singles, pairs, spreadK,
    spread: spreadK === null ? null : statement("stand-in.spread",
      { series, tolerance_share: SERIES[series].tolerance_share, spread_k: spreadK }),
    cautions: CAUTIONS,
  };
}

/** @param {number} rOhm @param {?BoardSide} board */
const voltsOf = (rOhm, board) => (board ? voltsAtPlug(rOhm, board) : null);

/** @param {string} id @param {Object<string, *>} figures @param {?number} volts */
function withVolts(id, figures, volts) {
  return volts === null ? statement(id, figures)
    : statement(`${id}-volts`, { ...figures, plug_v: volts });
}

/** @param {StandIn} standIn @param {StandInQuestion} question @returns {StoodIn} */
function stoodIn(standIn, { series, board = null }) {
  const { rOhm, showsC, errorK } = standIn;
  const volts = voltsOf(rOhm, board);
  const figures = { resistors: resistors(standIn, series), shows_c: showsC, error_k: errorK };
  return { standIn, volts, statement: withVolts("stand-in.row", figures, volts) };
}

/** @param {StandIn} standIn @param {string} series
 * @returns {Statement} the values as they are printed on the parts */
function resistors({ partsOhm, wired }, series) {
  const [first, second] = partsOhm.map((partOhm) =>
    statement(`stand-in.printed-${SERIES[series].digits}`, { part_ohm: partOhm }));
  return statement(`stand-in.${wired}`, second ? { first, second } : { first });
}

/** @param {?StoodIn} best @param {{series: string, tC: number}} wanted */
function headline(best, { series, tC }) {
  if (!best) return statement("stand-in.none", { series });
  const { standIn, volts } = best;
  return withVolts("stand-in.best",
    { resistors: resistors(standIn, series), t_c: tC, shows_c: standIn.showsC }, volts);
}

/** @param {StandIn} best @param {StandInQuestion} question
 * @returns {number} how far the resistor's own tolerance may move what the board shows, in K */
function spreadOf({ rOhm, showsC }, { curve, series }) {
  const share = SERIES[series].tolerance_share;
  const ends = [-share, share].map((off) => curve.beyondC(rOhm * (1 + off)) - showsC);
  return Math.max(...ends.map(Math.abs));
}
