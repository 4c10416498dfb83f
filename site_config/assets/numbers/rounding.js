// The one place where the page rounds. Mirrors kb/numbers/rounding.py.

/** @type {Array<[number, string]>} */
const SCALES = [[1e9, "GΩ"], [1e6, "MΩ"], [1e3, "kΩ"]];
/** Between number and unit: a space that does not break a line. */
const NARROW = "\u00a0";
/** Below this a difference is arithmetic, no temperature. */
const NO_DIFFERENCE = 1e-4;
/** Below this a share is arithmetic, no departure. */
export const NO_SHARE = 1e-9;
/** So many digits more tell an exact half from a number beside it. */
const MORE = 30;

/**
 * Python rounds an exact half to the even digit, JavaScript away from zero.
 * @param {string} rounded @param {string} exact the same number with MORE more digits
 */
function halfToEven(rounded, exact) {
  const kept = exact.slice(0, -MORE).replace(/\.$/, "");
  return /^50+$/.test(exact.slice(-MORE)) && /[02468]$/.test(kept) ? kept : rounded;
}

/** With a true minus, and never minus zero.
 * @param {number} value @param {number} decimals */
function fixed(value, decimals) {
  const size = Math.abs(value);
  const text = halfToEven(size.toFixed(decimals), size.toFixed(decimals + MORE));
  return (value < 0 && Number(text) !== 0 ? "−" : "") + text;
}

/** So many significant digits, no exponent; with `whole`, never fewer than the units.
 * @param {number} value @param {number} digits @param {boolean} [whole] */
function signed(value, digits, whole) {
  if (value === 0) return "0";
  let rounded = significant(value, digits);
  if (whole && Math.abs(value) >= Math.pow(10, digits - 1)) {
    rounded = Math.sign(value) * Number(fixed(Math.abs(value), 0));
  }
  const exponent = Math.floor(Math.log10(Math.abs(rounded)) + 1e-12);
  return fixed(rounded, Math.max(0, digits - 1 - exponent));
}

/** @param {number} value @param {number} [digits] 4 @returns {number} */
export function significant(value, digits = 4) {
  const size = Math.abs(value);
  const [rounded, power] = size.toExponential(digits - 1).split("e");
  const [exact, ownPower] = size.toExponential(digits - 1 + MORE).split("e");
  // 9.996 to three digits is 1.00e1: the powers differ, and then it is no half.
  const text = power === ownPower ? halfToEven(rounded, exact) : rounded;
  return Math.sign(value) * Number(`${text}e${power}`);
}

/** So many digits of ohms keep half a step below 0.05 K, 3 to 6.
 * @param {number} ratePerK share by which resistance changes for each kelvin */
export function digitsFor(ratePerK) {
  let digits = 3;
  while (digits < 6 && 0.5 * Math.pow(10, 1 - digits) > 0.05 * ratePerK) digits += 1;
  return digits;
}

/** @param {number} rOhm @param {number} [digits] 4 @returns {string} such as 6.320 kΩ; OL */
export function formatOhm(rOhm, digits = 4) {
  if (rOhm === Infinity) return "OL";
  if (rOhm === 0) return `0${NARROW}Ω`;
  const rounded = significant(rOhm, digits);
  const [scale, unit] = SCALES.find((step) => Math.abs(rounded) >= step[0]) || [1, "Ω"];
  return signed(rounded / scale, digits) + NARROW + unit;
}

/** @param {number} rOhm @param {number} digitOhm one digit of the meter
 * @returns {string} 0.96 Ω where one digit is 0.01 Ω, not 0.9600 Ω */
export function formatOhmTo(rOhm, digitOhm) {
  if (!(digitOhm > 0 && digitOhm < Infinity && rOhm > 0 && rOhm < Infinity)) {
    return formatOhm(rOhm);
  }
  /** @param {number} value */
  const digits = (value) => {
    const [first, last] = [value, digitOhm].map((number) => Math.floor(Math.log10(number) + 1e-9));
    return Math.max(first - last + 1, 1);
  };
  // Rounded first: 0.996 Ω to hundredths is 1.00 Ω, with a digit more.
  const rounded = significant(rOhm, digits(rOhm));
  return formatOhm(rounded, digits(rounded));
}

/** @param {number} lowOhm @param {number} highOhm @param {number} [digits] 4
 * @returns {string[]} the ends of a span, 11.95 and 12.23 kΩ: the unit once where both share it */
export function formatOhmEnds(lowOhm, highOhm, digits = 4) {
  const low = formatOhm(lowOhm, digits);
  const high = formatOhm(highOhm, digits);
  const at = low.indexOf(NARROW);
  const shared = at > 0 && high.endsWith(low.slice(at));
  return [shared ? low.slice(0, at) : low, high];
}

/** @param {number} tC @param {string} [unit] C or F @param {number} [decimals] 1
 * @returns {string} such as 7.0 °C */
export function formatT(tC, unit = "C", decimals = 1) {
  const value = unit === "F" ? (tC * 9) / 5 + 32 : tC;
  return `${fixed(value, decimals)}${NARROW}°${unit}`;
}

/** A difference: in °F nine fifths of it, and no 32 to add.
 * @param {number} differenceK @param {string} [unit] F for °F @param {number} [digits] 2
 * @returns {string} such as 0.42 K, 1.2 K, 24 K */
export function formatK(differenceK, unit = "K", digits = 2) {
  let value = unit === "F" ? (differenceK * 9) / 5 : differenceK;
  if (Math.abs(value) < NO_DIFFERENCE) value = 0;
  return signed(value, digits, true) + NARROW + (unit === "F" ? "°F" : "K");
}

/** @param {number} share @param {number} [digits] 2 @returns {string} 0.0235 is 2.4 % */
export function formatPercent(share, digits = 2) {
  return `${signed(share * 100, digits, true)}${NARROW}%`;
}

/** @param {number} share @returns {string} +2.4 %, −0.31 %; arithmetic's own is 0 % */
export function formatDeparture(share) {
  if (Math.abs(share) < NO_SHARE) return formatPercent(0);
  return (share > 0 ? "+" : "") + formatPercent(share);
}

/** @param {number} volts @param {number} [decimals] 2 @returns {string} such as 2.47 V */
export function formatVolts(volts, decimals = 2) {
  return `${fixed(volts, decimals)}${NARROW}V`;
}
