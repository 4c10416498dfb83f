// One winding against its maker's value, both at 20 °C. Mirrors kb/numbers/winding_value.py.
(function (Ohm) {
  "use strict";

  const WORDS = { "1": "within", "0": "undecided", "-1": "outside" };

  /**
   * @param {number} rOhm as read; Infinity over range
   * @param {{halfOhm: number, tC: number, partOhm: number, partC: number,
   *   allowedShare: ?number, constant?: number}} of the meter's half-width; the winding's
   *   temperature; the maker's value, where it holds, and its tolerance
   * @returns {{at20Ohm: number, partAt20Ohm: number, offShare: number, uncertaintyShare: number,
   *   state: string}} within, outside, undecided, open, or nothing without a tolerance
   */
  Ohm.windingValue = function (rOhm, of) {
    const { halfOhm, tC, partOhm, partC, allowedShare = null, constant = 234.5 } = of;
    const to20 = (ohm, fromC) => Ohm.broughtTo(ohm, { fromC, toC: 20, constant });
    const at20Ohm = to20(rOhm, tC);
    const partAt20Ohm = to20(partOhm, partC);
    if (rOhm === Infinity) {
      return { at20Ohm, partAt20Ohm, offShare: Infinity, uncertaintyShare: 0, state: "open" };
    }
    const offShare = at20Ohm / partAt20Ohm - 1;
    const uncertaintyShare = (2 * to20(halfOhm, tC)) / Math.sqrt(3) / partAt20Ohm;
    const state = allowedShare === null ? ""
      : WORDS[Ohm.decided(offShare, { limitK: allowedShare, uncertaintyK: uncertaintyShare })];
    return { at20Ohm, partAt20Ohm, offShare, uncertaintyShare, state };
  };
})((globalThis.Ohm = globalThis.Ohm || {}));
