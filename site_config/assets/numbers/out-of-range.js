// A value outside the range that is answered for. Mirrors kb/numbers/out_of_range.py.

/**
 * @typedef {{low: number, high: number, unit: string, what?: string}} Range closed; `what` holds for it
 */

/** A bound that has been through ln and exp comes back a few last digits off: no excursion. */
const SLACK = 1e-9;

/** @param {number} value @returns {string} six significant digits, never with an exponent */
function sixDigits(value) {
  return String(Number(value.toPrecision(6)));
}

/** Nothing is answered there, and nothing extrapolated. */
export class OutOfRange extends Error {
  /** @param {number} value @param {Range} range */
  constructor(value, { low, high, unit, what }) {
    super(
      `${sixDigits(value)} ${unit} is outside ${sixDigits(low)} to ${sixDigits(high)} ${unit}, where ` +
        `${what || "this curve"} holds; it is never extrapolated: give a value inside, or use a ` +
        "curve that reaches further");
    this.name = "OutOfRange";
    this.value = value;
    this.low = low;
    this.high = high;
    this.unit = unit;
  }
}

/**
 * @param {number} value @param {Range} range a value off it by rounding only is set on the bound
 * @returns {number}
 * @throws {OutOfRange} not-a-number is outside every range
 */
export function within(value, range) {
  const inside = Math.min(Math.max(value, range.low), range.high);
  if (!(Math.abs(value - inside) <= SLACK * Math.max(1, Math.abs(inside)))) {
    throw new OutOfRange(value, range);
  }
  return inside;
}
