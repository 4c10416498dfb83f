// What a meter shows on a range. Mirrors meter_display of kb/numbers/rounding.py; of its own, since
// every page has the rest of that, and drills alone have this.

/** @type {Array<[number, string]>} */
const RANGES = [[1e9, "GΩ"], [1e6, "MΩ"], [1e3, "kΩ"]];

/** The unit is that of the range and not of the reading, the places are those of one digit.
 * @param {number} rOhm @param {{span_ohm: number, resolution_ohm: number}} range
 * @returns {string[]} what a meter shows on it, and the unit beside that: 6.32, kΩ */
export function meterDisplay(rOhm, { span_ohm: spanOhm, resolution_ohm: digitOhm }) {
  const [scale, unit] = RANGES.find((step) => spanOhm >= step[0]) || [1, "Ω"];
  const decimals = Math.max(0, Math.ceil(Math.log10(scale / digitOhm) - 1e-9));
  return [(rOhm / scale).toFixed(decimals), unit];
}
