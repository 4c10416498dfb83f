// Outside limits: which faults make such readings, how likely each. Mirrors
// kb/numbers/likely_faults.py, which says what each figure rests on.

import { sensorFromParallelOhm } from "./divider.js";
import { SLIPS, explanation, isPullUp } from "./explanations.js";
import { held } from "./held.js";

/**
 * @typedef {import("./explanations.js").Explanation} Explanation
 * @typedef {import("./grid.js").Grid} Grid
 * @typedef {import("./held.js").Held} Held
 * @typedef {import("./instruments.js").Measured} Measured
 * family, others: curves by name; unit: in which temperatures were typed, nothing in ice.
 * @typedef {{curve: Grid, allowK: number, pullUpOhm: ?number, family: Object<string, Grid>,
 *   others: Object<string, Grid>, unit: string, hasTwins: boolean}} Known
 * part: how likely, in parts of all; among: whose curve it is.
 * @typedef {{found: Explanation, part: number, among: string}} Likely
 * Nothing where it cannot be undone.
 * @typedef {function(Measured): ?Measured} Undo
 */

/** How often each is met, in parts.
 * @type {Object<string, number>} */
const WEIGHTS = {
  "unit-slip": 2, "factor-ten": 2, fahrenheit: 2, "board-alone": 5, "plugged-in": 5,
  "family-curve": 3, "other-curve": 3, drift: 8, "series-resistance": 4, leak: 4, warmer: 3,
  exchanged: 2,
};
/** How likely it is in another reading too; those not named stay.
 * @type {Object<string, number>} */
const STAYS = {
  "unit-slip": 0.5, "factor-ten": 0.5, fahrenheit: 0.5, "plugged-in": 0.5,
  "series-resistance": 0.7, leak: 0.7, warmer: 0.5,
};
const HALF_K = 30;
const WARMEST_K = 15;
const PLACES_K = 60;
const UNKNOWN = 1 / 100;
const SERIES_SHARE_MAX = 2;
const PLACE_K = 2;
const LEAST_SHARE = 0.2;
const BESIDE_LEADER = 0.5;
const AMONG_CAUSES = 0.3;
const MOST_LINES = 3;

/** @param {string} kind */
const staysOf = (kind) => (kind in STAYS ? STAYS[kind] : 1);

/** @param {Likely[]} likely */
const ranked = (likely) => likely.slice().sort((a, b) => b.part - a.part);

/** @param {Likely[]} all ranked @returns {Likely[]} those not told apart from the first */
const nearTo = (all) => all.filter(({ part }) => part >= AMONG_CAUSES * all[0].part);

/** @param {Likely[]} likely */
const sumOfParts = (likely) => likely.reduce((sum, { part }) => sum + part, 0);

/**
 * @param {Known} known
 * @param {Measured[]} readings that which was found outside, then others of the same sensor
 * @returns {Explanation[]} the likeliest first; none where the first stands as it is
 */
export function explain(known, readings) {
  const first = readings[0];
  if (!(first.rOhm > 0 && first.rOhm < Infinity)) return [];
  const own = held(known.curve, first, known.allowK);
  if (own && own.fits) return [];
  const named = namedFaults(known, readings);
  const causes = own ? sizedCauses(known, own, readings) : [];
  const every = Math.pow(UNKNOWN, readings.length) + sumOfParts(named) + sumOfParts(causes);
  const lines = ranked([
    ...named.filter(({ among }) => !among), ...curvesTogether(named, "family-curve"),
    ...curvesTogether(named, "other-curve"), ...causesTogether(causes, readings.length),
  ]).slice(0, MOST_LINES);
  return lines.filter(({ part }) =>
    part >= Math.max(LEAST_SHARE * every, BESIDE_LEADER * lines[0].part)).map(({ found }) => found);
}

/** @param {Known} known @param {Measured[]} readings
 * @returns {Likely[]} what has no size of its own: slips, the plug, another curve */
function namedFaults(known, readings) {
  const { curve, pullUpOhm, unit } = known;
  /** @type {Likely[]} */
  const found = [];
  /** @param {string} kind @param {Undo} undo @param {Object<string, any>} figures
   * @param {{grid?: Grid, weight?: number, among?: string}} of */
  const tryOut = (kind, undo, figures, { grid = curve, weight = WEIGHTS[kind], among = "" }) => {
    const undone = undo(readings[0]);
    const fit = undone && held(grid, undone, known.allowK);
    if (!fit || !fit.fits) return;
    const part = readings.slice(1).reduce((product, other) => product
      * either(grid, known.allowK, { undone: undo(other), other, stays: staysOf(kind) }), fit.density);
    const { tImpliedC, errorK } = fit;
    found.push({ found: explanation(kind, figures, { tImpliedC, errorK }), part: part * weight, among });
  };
  SLIPS.forEach(([times, kind]) => tryOut(kind, slip(times), { times }, {}));
  if (unit) tryOut("fahrenheit", degrees(unit), {}, {});
  if (pullUpOhm !== null && isPullUp(readings[0], pullUpOhm)) {
    if (readings.every((other) => isPullUp(other, pullUpOhm))) {
      const alone = explanation("board-alone", { pullUpOhm });
      found.push({ found: alone, part: WEIGHTS["board-alone"], among: "" });
    }
  } else if (pullUpOhm !== null) {
    const alone = plugged(pullUpOhm)(readings[0]);
    if (alone) tryOut("plugged-in", plugged(pullUpOhm), { sensorOhm: alone.rOhm, pullUpOhm }, {});
  }
  /** @param {string} among @param {Object<string, Grid>} curves */
  const ofCurves = (among, curves) => Object.keys(curves).sort().forEach((name, _, names) => {
    const grid = curves[name];
    if (grid === curve || (curve.id && name === curve.id)) return;
    tryOut("other-curve", (measured) => measured, { curve: name },
      { grid, weight: WEIGHTS[among] / (curves === known.family ? 1 : names.length), among });
  });
  ofCurves("family-curve", known.family);
  ofCurves("other-curve", known.others);
  return found;
}

/** @param {Grid} grid @param {number} allowK
 * @param {{undone: ?Measured, other: Measured, stays: number, besidesK?: number}} reading
 * @returns {number} the density of another reading: with the fault, or without it */
function either(grid, allowK, { undone, other, stays, besidesK = 0 }) {
  const withIt = undone && held(grid, undone, allowK, besidesK);
  const without = stays < 1 && held(grid, other, allowK);
  return (withIt ? stays * withIt.density : 0) + (without ? (1 - stays) * without.density : 0);
}

/** @param {Measured} measured @param {number} rOhm @param {number} stretch of the meter's error
 * @returns {Measured} */
const readAs = (measured, rOhm, stretch) =>
  ({ ...measured, rOhm, meterHalfOhm: measured.meterHalfOhm * stretch });

/** The factor belongs to what was shown, leads and all; they come off once, afterwards.
 * @param {number} times @returns {Undo} */
const slip = (times) => (measured) => {
  const { rOhm, leadsOhm } = measured;
  return readAs(measured, Math.max((rOhm + leadsOhm) * times - leadsOhm, 0), times);
};

/** @param {string} unit @returns {Undo} */
const degrees = (unit) => (measured) =>
  ({ ...measured, tC: unit === "C" ? (measured.tC - 32) / 1.8 : 1.8 * measured.tC + 32 });

/** The meter's error is stretched by the same curve that turns the reading into the sensor.
 * @param {number} pullUpOhm @returns {Undo} */
const plugged = (pullUpOhm) => (measured) => {
  const rOhm = sensorFromParallelOhm(measured.rOhm, { pullUpOhm });
  return rOhm ? readAs(measured, rOhm, Math.pow(rOhm / measured.rOhm, 2)) : null;
};

/** @param {Known} known @param {Held} own @param {Measured[]} readings
 * @returns {Likely[]} what has a size of its own: ohms in series or beside it, a drift, sun, a plug */
function sizedCauses(known, own, readings) {
  const { errorK } = own;
  const nominalOhm = known.curve.ohm(readings[0].tC);
  const seriesOhm = readings[0].rOhm - nominalOhm;
  const perK = 2 / (Math.PI * HALF_K * (1 + Math.pow(errorK / HALF_K, 2)));
  const believable = seriesOhm > 0 && seriesOhm <= SERIES_SHARE_MAX * nominalOhm;
  const warm = known.unit && errorK > 0 && errorK <= WARMEST_K;
  /** @type {Array<[string, number]>} */
  const sizes = [
    ["drift", perK / 2], ["series-resistance", believable ? perK : 0],
    ["leak", seriesOhm < 0 ? perK : 0], ["warmer", warm ? 1 / WARMEST_K : 0],
    ["exchanged", known.unit && known.hasTwins ? 1 / PLACES_K : 0],
  ];
  /** @type {Likely[]} */
  const found = [];
  sizes.filter(([, each]) => each).forEach(([kind, each]) => {
    const { total, figures } = sized(kind, { known, own, readings });
    if (total) {
      found.push({ found: explanation(kind, figures), part: WEIGHTS[kind] * each * total, among: "" });
    }
  });
  return found;
}

/** The true error of the first reading is tried at so many standard deviations from none.
 * @param {string} kind @param {{known: Known, own: Held, readings: Measured[]}} of
 * @returns {{total: number, figures: Object<string, number>}} */
function sized(kind, { known, own, readings }) {
  const besidesK = kind === "exchanged" ? PLACE_K : 0;
  let [total, every, best] = [0, 0, 0];
  /** @type {Object<string, number>} */
  let figures = {};
  // One reading leaves a size as open as its own error.
  const most = readings.length > 1 ? 3 : 0;
  for (let node = -most; node <= most; node += 0.5) {
    let weight = Math.exp((-node * node) / 2);
    every += weight;
    const { undo, size } = sizeOf(kind, { known, own, first: readings[0], offK: node * own.spreadK });
    if (undo) {
      readings.slice(1).forEach((other) => {
        weight *= either(known.curve, known.allowK,
          { undone: undo(other), other, stays: staysOf(kind), besidesK });
      });
      total += weight;
      if (weight > best) [best, figures] = [weight, size];
    }
  }
  return { total: total / every, figures };
}

/** @param {string} kind @param {{known: Known, own: Held, first: Measured, offK: number}} of
 * @returns {{undo: ?Undo, size: Object<string, number>}} how it is undone, and its size, where the
 *   first reading's true error is offK */
function sizeOf(kind, { known, own, first, offK }) {
  if (kind === "warmer") {
    const warmK = own.errorK - offK;
    return { undo: (other) => ({ ...other, tC: other.tC + warmK }), size: {} };
  }
  if (kind === "exchanged") {
    const atC = own.tImpliedC - offK;
    return { undo: (other) => ({ ...other, tC: atC }), size: { atC } };
  }
  const trueOhm = known.curve.beyondOhm(first.tC + offK);
  if (kind === "series-resistance") {
    const seriesOhm = first.rOhm - trueOhm;
    const undo = (/** @type {Measured} */ other) =>
      readAs(other, Math.max(other.rOhm - seriesOhm, 0), 1);
    return { undo: seriesOhm > 0 ? undo : null, size: { seriesOhm } };
  }
  if (kind === "leak") {
    const leakOhm = sensorFromParallelOhm(first.rOhm, { pullUpOhm: trueOhm });
    return { undo: leakOhm ? plugged(leakOhm) : null, size: { leakOhm: leakOhm || 0 } };
  }
  const times = trueOhm / first.rOhm;
  return { undo: (other) => readAs(other, other.rOhm * times, times), size: {} };
}

/** @param {Likely[]} named @param {string} whose
 * @returns {Likely[]} the curves that fit alike, as one */
function curvesTogether(named, whose) {
  const all = ranked(named.filter(({ among }) => among === whose));
  const near = nearTo(all);
  return all.slice(0, 1).map(({ found, among }) => ({
    found: { ...found,
      figures: { ...found.figures, curves: near.map((each) => each.found.figures.curve) } },
    part: sumOfParts(near), among,
  }));
}

/** That the sensor itself may be bad, and nothing else, is what the verdict says already; from two
 * readings on it is a finding.
 * @param {Likely[]} all @param {number} count
 * @returns {Likely[]} the causes that the readings do not tell apart, as one line */
function causesTogether(all, count) {
  const near = nearTo(ranked(all));
  // What is mended at the plug is said before what asks for a new sensor.
  const isDrift = (/** @type {Likely} */ { found }) => found.kind === "drift";
  const causes = near.filter((each) => !isDrift(each)).concat(near.filter(isDrift))
    .map(({ found }) => found);
  if (!near.length || (count === 1 && near.length === 1 && causes[0].kind === "drift")) return [];
  const found = near.length > 1 ? explanation("several", {}, { causes }) : causes[0];
  return [{ found, part: sumOfParts(near), among: "" }];
}
