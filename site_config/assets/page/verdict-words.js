// Say a verdict in words: one plain sentence first, then what would settle it. No arithmetic here.

import { formatOhm } from "../numbers/rounding.js";
import { sayApart, sayT } from "./figures.js";

/** @typedef {import("../numbers/explanations.js").Explanation} Explanation */
/** @typedef {import("../numbers/verdict.js").Verdict} Verdict */

/** Verdict → the word of the trade and a shape, so that colour is never alone.
 * @type {Object<string, [string, string]>} */
export const VERDICT_WORDS = {
  within: ["Within limits", "✓"],
  outside: ["Outside limits", "✕"],
  undecided: ["Not decided", "?"],
  open: ["Open circuit", "∞"],
  short: ["Short circuit", "0"],
  "off-curve": ["Off the curve", "✕"],
};

/** @type {Object<string, string>} */
const TERM = {
  meter: "the meter",
  thermometer: "the thermometer",
  placement: "how the temperature was taken",
};
/** @type {Object<string, string>} */
const MEND = {
  meter: "a better meter",
  thermometer: "a better thermometer",
  placement: "ice water, or strapping and lagging the thermometer beside the sensor",
};

/**
 * @param {Verdict} v @param {{tC: number, rOhm: number}} asked
 * @returns {string} one sentence saying why
 */
export function sayVerdict(v, asked) {
  switch (v.verdict) {
    case "open":
      return "Over range: the circuit is broken, in the sensor, its lead or the plug.";
    case "short":
      return "Almost nothing: the two wires touch, or water bridges them.";
    case "off-curve":
      return `No sensor of this curve reads ${formatOhm(asked.rOhm)} at any temperature it holds for.`;
  }
  if (v.tImpliedC === null || v.errorK === null) {
    return "Over range on this meter, but a good part could be beyond it today: use a meter that " +
      "reaches further.";
  }
  const start = `It reads as at ${sayT(v.tImpliedC)}, ${sayApart(v.errorK)}`;
  const than = `${v.errorK < 0 ? "colder" : "hotter"} than the ${sayT(asked.tC)} you measured`;
  if (v.verdict === "within") {
    return `${start} from the ${sayT(asked.tC)} you measured; that is allowed.`;
  }
  if (v.verdict === "outside") return `${start} ${than}; more than is allowed.`;
  return v.limitKnown ? `${start} ${than}: too close to call with these instruments.`
    : `${start} off, but nobody knows how far this part may be off.`;
}

/**
 * @param {Verdict} v undecided
 * @returns {string} what would settle it; nothing when there is nothing to say
 */
export function saySettling(v) {
  if (v.verdict !== "undecided" || !v.settling) return "";
  const needed = `The uncertainty must come below ${sayApart(v.settling.neededK)}. `;
  if (!v.settling.meterCan) {
    return `${needed}This meter cannot decide this reading, however well the temperature is known.`;
  }
  const largest = v.dominant ? `Most of it is ${TERM[v.dominant]}. ` : "";
  if (v.settling.terms.length) {
    return `${needed + largest}It would be settled by ${MEND[v.settling.terms[0]]}.`;
  }
  return `${needed + largest}Improve more than one of meter, thermometer and how it is taken.`;
}

/**
 * @param {Explanation} one that would also fit
 * @param {function(string): string} whose the label of a sensor that has a curve
 * @returns {string}
 */
export function sayExplanation(one, whose) {
  const there = `${sayT(one.tImpliedC)}, ${sayApart(one.errorK)} off`;
  switch (one.kind) {
    case "unit-slip":
      return (one.figures.times > 1 ? "ohms typed where the meter showed kilohms: "
        : "kilohms typed where the meter showed ohms: ") + there;
    case "factor-ten":
      return "a decimal point misread, ten times too " +
        `${one.figures.times > 1 ? "low: " : "high: "}${there}`;
    case "other-curve":
      return `the curve of ${whose(one.figures.curve)} (wrong part, or plugs exchanged): ${there}`;
    case "plugged-in":
      return `still plugged in, ${formatOhm(one.figures.sensorOhm)} beside the board's ` +
        `${formatOhm(one.figures.pullUpOhm)}: ${there}`;
    default:
      return `${formatOhm(one.figures.seriesOhm, 2)} in series, as of a bad contact or joint`;
  }
}
