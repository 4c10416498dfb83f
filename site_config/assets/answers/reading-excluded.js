// How far off it may be, what that rules out, what to believe now. Mirrors
// kb/answers/reading_excluded.py.

import { faultShare } from "../numbers/believed.js";
import { SURE } from "../numbers/error-bound.js";
import { halvesK } from "../numbers/verdict.js";
import { statement } from "./statement.js";

const LEAST_SHARE = 0.01;

/**
 * @typedef {import("./statement.js").Statement} Statement
 * @typedef {import("../numbers/verdict.js").Verdict} Verdict
 * What the notes say of this sensor under a code: how far off it must be, colder and hotter; how
 * likely it is at fault, and the likeliest other suspect.
 * @typedef {{needsK: number[], share: number, rival: string, rivalShare: number}} UnderCode
 * A limit, and whether the true error is surely inside it, surely outside, or either.
 * @typedef {{name: string, lowK: ?number, highK: ?number, state: "in"|"out"|"open"}} Held
 * @typedef {{errorK: number, lowK: number, highK: number, limits: Held[],
 *   statements: Statement[]}} Excluded
 */

/** @param {import("./judged.js").SensorFacts} sensor @param {import("./judged.js").Judged} judged
 * @param {?UnderCode} under @returns {?Excluded} */
export function whatIsExcluded({ curve, allowK = 0 }, { verdict, at, measured }, under) {
  const { verdict: state, errorK, uncertaintyK } = verdict;
  if (errorK === null || uncertaintyK === null || !at) return null;
  const lowK = errorK - uncertaintyK;
  const highK = errorK + uncertaintyK;
  const tolK = curve.tolK(measured.tC);
  /** @param {string} name @param {number} halfK @returns {Held} */
  const around = (name, halfK) => ({
    name, lowK: -halfK, highK: halfK,
    state: -halfK <= lowK && highK <= halfK ? "in" : highK < -halfK || halfK < lowK ? "out" : "open",
  });
  const part = curve.toleranceKnown ? around("part", tolK) : null;
  const needsK = under ? under.needsK : [];
  const code = needsK.length ? needed(needsK, lowK, highK) : null;
  const limits = /** @type {Held[]} */ (
    [part, allowK > tolK ? around("machine", allowK) : null, code].filter(Boolean));
  const undecided = state === "undecided";
  /** @type {Statement[]} */
  const statements = [];
  if (undecided) {
    statements.push(
      statement("reading.at-most", { most_k: Math.max(-lowK, highK), sure_share: SURE }));
    if (part && part.state === "out") statements.push(statement("reading.part-out", { tol_k: tolK }));
  }
  if (code && code.state !== "open" && (undecided || state === "outside")) {
    statements.push(
      statement(`reading.code-${code.state}`, { needs_k: Math.min(...needsK.map(Math.abs)) }));
  }
  if (undecided && under) statements.push(...believed(verdict, curve, at.tC, under));
  return statements.length ? { errorK, lowK, highK, limits, statements } : null;
}

/** @param {number[]} needsK @param {number} lowK @param {number} highK @returns {Held} */
function needed(needsK, lowK, highK) {
  const cold = needsK.filter((needK) => needK < 0);
  const hot = needsK.filter((needK) => needK > 0);
  const coldK = cold.length ? Math.max(...cold) : null;
  const hotK = hot.length ? Math.min(...hot) : null;
  const reached = (coldK !== null && highK <= coldK) || (hotK !== null && lowK >= hotK);
  const missed = (coldK === null || lowK > coldK) && (hotK === null || highK < hotK);
  return { name: "code", lowK: coldK, highK: hotK, state: reached ? "in" : missed ? "out" : "open" };
}

/** @param {Verdict} verdict @param {import("../numbers/grid.js").Grid} curve @param {number} tC
 * @param {UnderCode} under @returns {Statement[]} nothing where the notes say nothing of before */
function believed(verdict, curve, tC, { share, rival, rivalShare }) {
  const { errorK, limitK, limitKnown } = verdict;
  if (!(share > 0 && share < 1) || !limitKnown || errorK === null) return [];
  const found = faultShare(errorK, {
    limitK, halfWidthsK: halvesK(verdict), before: share,
    largestK: Math.max(tC - curve.lowC, curve.highC - tC),
  });
  if (found === null) return [];
  const after = Math.min(Math.max(found, LEAST_SHARE), 1 - LEAST_SHARE);
  const figures = { before_share: share, after_share: after, sound_share: 1 - after };
  return [rival ? statement("reading.believed-rival",
    { ...figures, rival, rival_share: (rivalShare * (1 - after)) / (1 - share) })
    : statement("reading.believed", figures)];
}
