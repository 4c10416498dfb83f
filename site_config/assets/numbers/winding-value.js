// One winding against its maker's value, both at 20 °C. Mirrors kb/numbers/winding_value.py.

import { LIMITS } from "../catalog.js";
import { decided } from "./verdict.js";
import { correctedTo } from "./winding.js";

/** @type {Object<string, string>} */
const WORDS = { "1": "within", "0": "undecided", "-1": "outside" };

/**
 * @param {number} rOhm as read; Infinity over range
 * @param {{halfOhm: number, tC: number, partOhm: number, partC: number,
 *   allowedShare: ?number, constant?: number, tHalfK?: number}} of the meter's half-width; the
 *   winding's temperature and how well it is known; the maker's value, where it holds, and its tolerance
 * @returns {{at20Ohm: number, partAt20Ohm: number, offShare: number, uncertaintyShare: number,
 *   state: string}} within, outside, undecided, open, or nothing without a tolerance
 */
export function windingValue(rOhm, of) {
  const { halfOhm, tC, partOhm, partC, allowedShare = null } = of;
  const { constant = 234.5, tHalfK = LIMITS.winding_half_k } = of;
  /** @param {number} ohm @param {number} fromC */
  const to20 = (ohm, fromC) => correctedTo(ohm, { fromC, toC: 20, constant });
  const at20Ohm = to20(rOhm, tC);
  const partAt20Ohm = to20(partOhm, partC);
  if (rOhm === Infinity) {
    return { at20Ohm, partAt20Ohm, offShare: Infinity, uncertaintyShare: 0, state: "open" };
  }
  const offShare = at20Ohm / partAt20Ohm - 1;
  const perK = at20Ohm / partAt20Ohm / (constant + tC);
  const halfShare = to20(halfOhm, tC) / partAt20Ohm;
  const uncertaintyShare = (2 * Math.hypot(halfShare, tHalfK * perK)) / Math.sqrt(3);
  const state = allowedShare === null ? ""
    : WORDS[decided(offShare, { limitK: allowedShare, uncertaintyK: uncertaintyShare })];
  return { at20Ohm, partAt20Ohm, offShare, uncertaintyShare, state };
}
