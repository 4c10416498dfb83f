// A sensor without a mark: which curves do these readings belong to, and what would tell them?
// Mirrors kb/answers/which.py.

import { LIMITS } from "../catalog.js";
import { ohmDigits } from "../numbers/ohm-digits.js";
import { whichCurve } from "../numbers/which-curve.js";
import { Refusal, statement } from "./statement.js";
import { take } from "./tools.js";
import { typedReadingOhm, typedTemperature } from "./typed.js";

/**
 * @typedef {import("../numbers/which-curve.js").Candidate} Candidate
 * @typedef {import("../numbers/instruments.js").Measured} Measured
 * @typedef {import("./statement.js").Statement} Statement
 * names: what to call each curve; pairs: temperature and reading as typed, a pair of which a half
 * is empty counts for nothing.
 * @typedef {{curves: Object<string, import("../numbers/grid.js").Grid>,
 *   names: Object<string, string>, pairs: Array<[string, string]>, unit?: string,
 *   tools: import("./tools.js").Tools}} WhichQuestion
 * A pair as read, or why it cannot be taken; field: at, reading or thermometer.
 * @typedef {{tC: ?number, shownOhm: ?number, field: string, refusal: ?Statement}} ReadPair
 * @typedef {{curve: string, candidate: Candidate, statement: Statement}} RankedCurve
 * state: within where one fits, undecided where several do, outside where none does; nothing where
 * no pair could be read. unit: that of the first pair; digits: of ohms that tell what a kelvin needs
 * on every curve that fits, on the nearest where none does.
 * @typedef {{unit: string, digits: number, pairs: ReadPair[], state: string, title: Statement,
 *   advice: Statement[], fitting: RankedCurve[], missing: RankedCurve[],
 *   cautions: string[]}} WhichAnswer
 */

/** What stands under every ranking, by id. */
const CAUTIONS = ["sensor-unplugged", "maker-first"];
/** So many digits of ohms where no curve says what they must tell. */
const UNKNOWN_DIGITS = 4;

/** @param {WhichQuestion} question @returns {WhichAnswer} a pair that cannot be read is refused in its
 *   own place */
export function answerWhich(question) {
  const { curves, names, unit = "C" } = question;
  const read = question.pairs.map((pair) => readPair(question, pair));
  const pairs = read.map(({ pair }) => pair);
  /** @type {Array<{measured: Measured, unit: string}>} */
  const found = [];
  read.forEach(({ measured, unit: typedIn }) => {
    if (measured) found.push({ measured, unit: typedIn });
  });
  if (!found.length) {
    const begun = question.pairs.some(([at, reading]) => at.trim() || reading.trim());
    return {
      unit, digits: UNKNOWN_DIGITS, pairs, state: "", title: statement("which.title-none-read"),
      advice: [statement(begun ? "which.half-pair" : "which.no-pair")],
      fitting: [], missing: [], cautions: CAUTIONS,
    };
  }
  const ranked = whichCurve(curves, { readings: found.map(({ measured }) => measured) });
  const fitting = ranked.ranking.filter(({ fits }) => fits);
  const state = ["outside", "within"][fitting.length] || "undecided";
  const needed = (fitting.length ? fitting : ranked.ranking.slice(0, 1))
    .map(({ curve }) => ohmDigits(curves[curve]));
  return {
    unit: found[0].unit, digits: needed.length ? Math.max(...needed) : UNKNOWN_DIGITS, pairs, state,
    title: titleOf(fitting, names),
    advice: advice(ranked, fitting, { names, read: found.length }),
    fitting: fitting.map(rankedCurve),
    missing: ranked.ranking.filter(({ fits }) => !fits).map(rankedCurve),
    cautions: CAUTIONS,
  };
}

/** @param {WhichQuestion} question @param {[string, string]} typed
 * @returns {{pair: ReadPair, measured: ?Measured, unit: string}} */
function readPair({ unit: bare = "C", tools }, [at, reading]) {
  const pair = { tC: null, shownOhm: null, field: "", refusal: null };
  try {
    const { tC, unit } = typedTemperature(at, { field: "at", unit: bare });
    const shownOhm = typedReadingOhm(reading, { field: "reading" });
    const measured = take(tools, shownOhm, { tC });
    if (measured.rOhm === Infinity) {
      throw new Refusal(statement("which.over-range"), { field: "reading" });
    }
    return { pair: { ...pair, tC, shownOhm }, measured, unit };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    // A pair that is not typed yet is no fault; a pair that is, and no word on how, is asked for.
    if (error.missing && error.field !== "how") return { pair, measured: null, unit: "" };
    const { field, statement: refusal } = error;
    return { pair: { ...pair, field, refusal }, measured: null, unit: "" };
  }
}

/** @param {Candidate[]} fitting @param {Object<string, string>} names */
function titleOf(fitting, names) {
  if (!fitting.length) return statement("which.title-none");
  return fitting.length === 1
    ? statement("which.title-only", { curve: names[fitting[0].curve] })
    : statement("which.title-many", { count: fitting.length });
}

/** @param {{parting: ?import("../numbers/which-curve.js").Parting}} ranked
 * @param {Candidate[]} fitting @param {{names: Object<string, string>, read: number}} found
 * @returns {Statement[]} */
function advice({ parting }, fitting, { names, read }) {
  if (!fitting.length) return [statement("which.none")];
  const curves = fitting.map(({ curve }) => names[curve]);
  if (curves.length === 1) {
    const only = statement("which.only", { curve: curves[0] });
    return read === 1 ? [only, statement("which.one-more", { away_k: LIMITS.away_k })] : [only];
  }
  const statements = [statement("which.not-told-apart", { curves })];
  const [first, second] = curves;
  if (!parting) return [...statements, statement("which.no-shared", { first, second })];
  const { atC, byK, neededK, certain } = parting;
  return [...statements, statement(`which.${certain ? "part" : "never-part"}`,
    { first, second, at_c: atC, by_k: byK, needed_k: neededK })];
}

/** @param {Candidate} candidate @returns {RankedCurve} */
function rankedCurve(candidate) {
  const { curve, worstK } = candidate;
  return {
    curve, candidate,
    statement: worstK === Infinity ? statement("which.unreached")
      : statement("which.off", { worst_k: worstK }),
  };
}
