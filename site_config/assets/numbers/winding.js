// A motor's windings: equal within a few per cent? Mirrors kb/numbers/winding_balance.py and
// kb/numbers/winding_metal.py.

import { decided } from "./verdict.js";

/** Copper as IEC 60335-1 and as IEC 60034-1 count it, aluminium, heating wire: state it beside
 * every result. */
const CONSTANTS = [234.5, 235, 225, 9980];

/** @param {number} constant */
function known(constant) {
  if (!CONSTANTS.includes(constant)) {
    throw new RangeError(
      `${constant} is no winding constant; use 234.5 or 235 for copper, ` +
      "225 for aluminium, 9980 for heating wire");
  }
  return constant;
}

/** @param {number} rOhm read at fromC
 * @param {{fromC: number, toC: number, constant: number}} how
 * @returns {number} the winding's Ω at toC */
export function correctedTo(rOhm, { fromC, toC, constant }) {
  const k = known(constant);
  return (rOhm * (k + toC)) / (k + fromC);
}

/** @param {number[]} values */
function total(values) {
  return values.reduce((sum, value) => sum + value, 0);
}

/** @param {number} off @param {number} uncertainty @param {?number} allowed
 * @returns {string} nothing where nobody gave a limit */
function stateOf(off, uncertainty, allowed) {
  if (allowed === null) return "";
  const way = decided(off, { limitK: allowed, uncertaintyK: uncertainty });
  return way > 0 ? "within" : way < 0 ? "outside" : "undecided";
}

/**
 * @typedef {{rOhm: number, at20Ohm: number, offShare: ?number, uncertaintyShare: ?number,
 *   state: string}} Winding state: within, outside, undecided, open, or nothing without a limit
 *
 * @param {Object<string, number>} readingsOhm by pair of leads, two or more; Infinity over range
 * @param {{halfWidthsOhm: Object<string, number>, tC: number, allowedShare: ?number,
 *   constant?: number}} how far each may be off the others, one digit on one range
 *   (meterBesideOhm); the winding's temperature, cooled through;
 *   the greatest departure from the mean; 234.5 or 235 for copper, 225 for aluminium
 * @returns {{state: string, meanAt20Ohm: ?number, worstShare: ?number, constant: number,
 *   windings: Object<string, Winding>}} state: the worst of the windings'
 * @throws {RangeError} fewer than two, or a reading not above zero
 */
export function windingBalance(readingsOhm, how) {
  const { halfWidthsOhm, tC, allowedShare = null, constant = 234.5 } = how;
  const names = Object.keys(readingsOhm);
  const n = names.length;
  if (n < 2) {
    throw new RangeError("balance compares at least two windings; read every pair of leads");
  }
  const rOhm = names.map((name) => readingsOhm[name]);
  if (!rOhm.every((pairOhm) => pairOhm > 0)) {
    throw new RangeError(
      "a winding reads above zero; a reading of zero needs a meter for milliohms");
  }
  const at20 = rOhm.map((pairOhm) => correctedTo(pairOhm, { fromC: tC, toC: 20, constant }));
  /** @type {Object<string, Winding>} */
  const windings = {};
  if (rOhm.includes(Infinity)) {
    names.forEach((name, i) => {
      windings[name] = { rOhm: rOhm[i], at20Ohm: at20[i], offShare: null, uncertaintyShare: null,
        state: rOhm[i] === Infinity ? "open" : "" };
    });
    return { state: "open", meanAt20Ohm: null, worstShare: null, constant, windings };
  }
  const mean = total(rOhm) / n;
  const u2 = names.map((name) => Math.pow(halfWidthsOhm[name], 2) / 3);
  const all2 = total(u2) / (n * n);
  names.forEach((name, i) => {
    const offShare = rOhm[i] / mean - 1;
    // d(R_i/mean): own reading counts 1 − 1/n, every other 1/n.
    const uncertaintyShare = (2 * Math.sqrt((1 - 2 / n) * u2[i] + all2)) / mean;
    const state = stateOf(offShare, uncertaintyShare, allowedShare);
    windings[name] = { rOhm: rOhm[i], at20Ohm: at20[i], offShare, uncertaintyShare, state };
  });
  const each = names.map((name) => windings[name]);
  const state = ["outside", "undecided", "within"]
    .find((worse) => each.some((winding) => winding.state === worse)) || "";
  const worstShare = Math.max(...rOhm.map((pairOhm) => Math.abs(pairOhm / mean - 1)));
  return { state, meanAt20Ohm: total(at20) / n, worstShare, constant, windings };
}
