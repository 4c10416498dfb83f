// Which sentences an insulation reading asks for: the verdict, each limit, what to mind. Mirrors
// kb/answers/insulation_statements.py.

import { LIMITS } from "../catalog.js";
import { dampHeadline, dampNotes, isDoubtful } from "./insulation-damp.js";
import { ratioNote, trendNote } from "./insulation-watched.js";
import { statement } from "./statement.js";

/**
 * @typedef {import("./statement.js").Statement} Statement
 * @typedef {import("../numbers/insulation.js").LimitCheck} LimitCheck
 * A test, and the verdict on it.
 * @typedef {{part: import("./insulation-tested.js").InsulationFacts,
 *   test: import("./insulation-tested.js").Tested, tC: ?number,
 *   verdict: import("./insulation.js").InsulationVerdict,
 *   damp: import("./insulation-damp.js").Damp,
 *   seen: import("./insulation-watched.js").Watched}} Shown
 */

/** The temperature that windings are compared at. */
const BROUGHT_TO_C = 40;

/** How to say ohms: as they are, as more than that, or as over range.
 * @param {Shown} shown @param {number} rOhm */
function amount({ test }, rOhm) {
  if (rOhm === Infinity) return statement("insulation.amount-over-range");
  return statement(`insulation.${test.overRange ? "amount-more" : "amount"}`, { r_ohm: rOhm });
}

/** A winding whose temperature nobody took.
 * @param {Shown} shown */
const waits = ({ part, tC }) => part.wound && tC === null;

/** Too little, and water or dirt on the surface may be why; nothing at all is no damp.
 * @param {Shown} shown */
const spoilt = ({ verdict, test, damp }) =>
  verdict.state === "outside" && test.rOhm > 0 && isDoubtful(damp);

/** @param {Shown} shown
 * @returns {string} too little on a wet surface says nothing of the winding */
export const stateShown = (shown) => (spoilt(shown) ? "undecided" : shown.verdict.state);

/** @param {Shown} shown @returns {Statement} by the part's own limit, at 40 °C or as read */
export function insulationHeadline(shown) {
  const { test, tC, verdict } = shown;
  if (waits(shown)) return atAnyWarmth(shown);
  const own = verdict.checks[0];
  const { at40Ohm } = verdict;
  if (spoilt(shown)) {
    return dampHeadline(shown.damp, { reading: amount(shown, own.readingOhm), t_c: tC });
  }
  if (verdict.beyond) return beyond(shown, own);
  const place = at40Ohm === null ? "as-read" : "brought";
  const figures = at40Ohm !== null
    ? { reading: amount(shown, at40Ohm), at_c: BROUGHT_TO_C }
    : { reading: amount(shown, own.readingOhm), t_c: tC };
  if (test.overRange && own.state === "undecided") {
    if (!test.tester) return statement("insulation.over-range-unknown");
    return statement(`insulation.over-range-${place}`, { ...figures, instrument: test.tester.name });
  }
  return statement(`insulation.${own.state}-${place}`, figures);
}

/** What holds from 10 °C up or up to 85 °C, where the temperature is not known.
 * @param {Shown} shown */
function atAnyWarmth(shown) {
  const { test, verdict } = shown;
  const figures = { reading: amount(shown, test.overRange ? test.mostOhm : test.rOhm) };
  if (verdict.state === "outside") return statement("insulation.outside-nothing", figures);
  if (verdict.state === "undecided") return statement("insulation.over-range-unknown");
  if (verdict.beyond === "cold") {
    return statement("insulation.enough-from", { ...figures, low_c: LIMITS.insulation_low_c });
  }
  return statement("insulation.too-little-to", { ...figures, high_c: LIMITS.insulation_high_c });
}

/** What a reading tells where no correction holds, and what to do.
 * @param {Shown} shown @param {LimitCheck} own */
function beyond(shown, own) {
  const figures = { reading: amount(shown, own.readingOhm), t_c: shown.tC };
  if (own.state === "outside" && own.readingOhm === 0) {
    return statement("insulation.outside-nothing", { reading: figures.reading });
  }
  if (own.state === "outside") {
    return statement("insulation.outside-cold", { ...figures, limit_c: own.limitC });
  }
  if (own.state === "within") return statement("insulation.within-hot", figures);
  if (shown.verdict.beyond === "hot") {
    return statement("insulation.undecided-hot", { ...figures, high_c: LIMITS.insulation_high_c });
  }
  const over = shown.test.overRange ? "-over" : "";
  const hermetic = shown.part.hermetic ? "-hermetic" : "";
  return statement(`insulation.undecided-cold${over}${hermetic}`,
    { ...figures, low_c: LIMITS.insulation_low_c });
}

/** @param {Shown} shown @returns {Statement[]} that it fell, and what the standard would say */
export function insulationBeside(shown) {
  const { test, verdict } = shown;
  const found = shown.seen.trend === "falling" ? [statement("insulation.falling")] : [];
  if (verdict.beyond || waits(shown) || spoilt(shown)) return found;
  const [own, ...standard] = verdict.checks;
  standard.forEach(({ state, limitOhm }) => {
    const figures = { limit_ohm: limitOhm };
    if (own.state === "within" && state === "outside") {
      found.push(statement("insulation.standard-less", figures));
    } else if (own.state === "within" && state === "undecided") {
      found.push(statement(
        `insulation.${test.overRange ? "standard-beyond" : "standard-close"}`, figures));
    } else if (own.state === "outside" && state === "within") {
      found.push(statement("insulation.standard-passes"));
    }
  });
  return found;
}

/** @param {Shown} shown @param {{check: LimitCheck}} of @returns {Statement} with its verdict */
export function checkLine(shown, { check }) {
  const standard = shown.part.hermetic ? "hermetic" : "standard";
  const whose = check.whose === "part" ? "part" : standard;
  return statement(`insulation.${whose}-${check.state}`, {
    limit_ohm: check.limitOhm, limit_c: check.limitC, reading: amount(shown, check.readingOhm),
  });
}

/** @param {Shown} shown @returns {Statement} what was read, where and with what */
export function readLine({ test, tC }) {
  const at = tC === null ? "" : "-at";
  const figures = {
    r_ohm: test.overRange ? Infinity : test.rOhm, test_volts: test.volts,
    ...(tC === null ? {} : { t_c: tC }),
  };
  if (!test.tester || !test.used) return statement(`insulation.read-unknown${at}`, figures);
  return statement(`insulation.read${at}`,
    { ...figures, instrument: test.tester.name, error_share: test.used.percent / 100 });
}

/** @param {Shown} shown @returns {Statement[]} how it was brought there, what to mind */
export function insulationNotes(shown) {
  const { part, test, verdict } = shown;
  const notes = brought(shown);
  if (test.volts < part.testVolts) {
    notes.push(statement("insulation.below-voltage", { most_volts: part.testVolts }));
  }
  const close = verdict.state === "undecided" && !verdict.beyond && !test.overRange;
  if ((verdict.state === "outside" && !spoilt(shown)) || close) {
    notes.push(statement(`insulation.damp${part.hermetic ? "-hermetic" : ""}`));
  }
  return [...notes, ...trendNote(shown.seen, stateShown(shown)), ...ratioNote(shown.seen),
    ...dampNotes(shown.damp, waits(shown))];
}

/** How it was brought to another temperature; what a winding without one needs.
 * @param {Shown} shown @returns {Statement[]} */
function brought(shown) {
  const { part, verdict } = shown;
  if (waits(shown)) {
    const words = statement("insulation.without-temperature", { at_c: BROUGHT_TO_C });
    return verdict.state ? [] : [words];
  }
  const corrected = verdict.beyond ? "uncorrected" : "corrected";
  return [statement(`insulation.${part.wound ? corrected : "as-read"}`,
    { material: statement(`insulation.material-${part.material}`), at_c: BROUGHT_TO_C,
      half_k: LIMITS.winding_half_k })];
}
