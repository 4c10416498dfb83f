// A value outside the range that is answered for. Mirrors kb/numbers/out_of_range.py.

/** A bound that has been through ln and exp comes back a few last digits off: no excursion. */
const SLACK = 1e-9;

/** @param {number} value @returns {string} six significant digits, never with an exponent */
function said(value) {
  return String(Number(value.toPrecision(6)));
}

/**
 * @param {number} value
 * @param {{low: number, high: number, unit: string, what?: string}} range
 * @returns {Error} named OutOfRange, with value, low, high and unit
 */
export function outOfRange(value, { low, high, unit, what }) {
  const error = new Error(
    `${said(value)} ${unit} is outside ${said(low)} to ${said(high)} ${unit}, where ` +
      `${what || "this curve"} holds; it is never extrapolated: give a value inside, or use a ` +
      "curve that reaches further");
  error.name = "OutOfRange";
  return Object.assign(error, { value, low, high, unit });
}

/**
 * @param {number} value
 * @param {{low: number, high: number, unit: string, what?: string}} range closed; a value off by
 *   rounding only is set on the bound
 * @returns {number}
 * @throws {Error} OutOfRange; not-a-number is outside every range
 */
export function within(value, range) {
  const inside = Math.min(Math.max(value, range.low), range.high);
  if (!(Math.abs(value - inside) <= SLACK * Math.max(1, Math.abs(inside)))) {
    throw outOfRange(value, range);
  }
  return inside;
}
