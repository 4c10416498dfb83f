// One pair of leads as read: what was typed, and how it stands to the value its entry gives.
// Mirrors kb/answers/winding_reading.py.

import { LIMITS } from "../catalog.js";
import { meterDigitOhm, meterHalfOhm, meterSpanOhm } from "../numbers/instruments.js";
import { windingValue } from "../numbers/winding-value.js";
import { correctedTo } from "../numbers/winding.js";

/**
 * @typedef {import("../numbers/instruments.js").Meter} Meter
 * What an entry says of a part's windings. toleranceShare, balanceShare: what each may be off its
 * value, and equal ones off their mean; metal: its word in the notes, constant goes with it; wound:
 * good ohms do not prove a motor; insulated: the entry has an insulation limit too.
 * @typedef {{pairs: Object<string, number>, atC: number, toleranceShare: ?number,
 *   balanceShare: ?number, metal: string, constant: number, wound: boolean,
 *   insulated: boolean, connection: string}} WindingFacts connection: star, delta, single-phase or
 *   unknown
 * One pair of leads as typed: the mean, the greatest less the least, and what the contact leaves in
 * the mean as the half-width of a rectangle.
 * @typedef {{rOhm: number, count: number, spreadOhm: number, halfOhm: number}} Repeated
 * One pair of leads against its entry; Infinity over range, null where nobody knows. soundOhm:
 * without a temperature, what a sound winding may read at any that is judged.
 * @typedef {{rOhm: number, repeats: number, spreadOhm: number, contactHalfOhm: number,
 *   digitOhm: number, at20Ohm: ?number, expectedOhm: ?number,
 *   soundOhm: ?number[], offShare: ?number, uncertaintyShare: ?number, allowedShare: ?number,
 *   state: string}} WindingReading state: within, outside, undecided, open, short, or nothing;
 *   without a temperature only what holds at every one that is judged
 */

/**
 * Over range is open only where the meter could have shown a sound winding, and nothing at all is
 * a short only where it would have: without a temperature, one as hot or cold as any judged.
 * @param {WindingFacts} facts
 * @param {{pair: string, repeated: Repeated, meter: Meter, tC: ?number}} how
 * @returns {WindingReading}
 */
export function readWinding(facts, { pair, repeated, meter, tC }) {
  const rOhm = repeated.rOhm > meterSpanOhm(meter) ? Infinity : repeated.rOhm;
  const bare = {
    rOhm, repeats: repeated.count, spreadOhm: repeated.spreadOhm,
    contactHalfOhm: repeated.halfOhm, digitOhm: meterDigitOhm(meter, rOhm),
    at20Ohm: null, expectedOhm: null, soundOhm: null,
    offShare: null, uncertaintyShare: null, allowedShare: facts.toleranceShare, state: "",
  };
  if (rOhm === Infinity) {
    const reached = mostOhm(facts, { pair, tC }) <= meterSpanOhm(meter);
    return { ...bare, state: reached ? "open" : "undecided" };
  }
  if (rOhm === 0) {
    return { ...bare, state: nothingIsLess(facts, { pair, meter, tC }) ? "short" : "undecided" };
  }
  if (tC === null) return atAnyWarmth(facts, { bare, pair, meter });
  const value = valueOf(facts, { bare, pair, meter, tC });
  const { at20Ohm, offShare, uncertaintyShare, state } = value;
  const expected = expectedOhm(facts, pair, tC);
  return { ...bare, at20Ohm, expectedOhm: expected, offShare, uncertaintyShare, state };
}

/** @param {WindingFacts} facts
 * @param {{bare: WindingReading, pair: string, meter: Meter, tC: number}} how */
function valueOf(facts, { bare, pair, meter, tC }) {
  return windingValue(bare.rOhm, {
    halfOhm: Math.hypot(meterHalfOhm(meter, bare.rOhm), bare.contactHalfOhm), tC,
    partOhm: facts.pairs[pair], partC: facts.atC,
    allowedShare: facts.toleranceShare, constant: facts.constant,
  });
}

/** What holds at every temperature that is judged. Departure and uncertainty bend one way in
 * 1/(k + t), so that what holds at the coldest and the hottest, off to one side, holds between.
 * @param {WindingFacts} facts @param {{bare: WindingReading, pair: string, meter: Meter}} how
 * @returns {WindingReading} nothing compared where it depends on the temperature */
function atAnyWarmth(facts, { bare, pair, meter }) {
  const { toleranceShare } = facts;
  if (toleranceShare === null) return bare;
  const { winding_coldest_c: coldC, winding_hottest_c: hotC } = LIMITS;
  const [coldest, hottest] = [coldC, hotC].map((tC) =>
    valueOf(facts, { bare, pair, meter, tC }));
  if (coldest.state !== hottest.state || coldest.state === "undecided") return bare;
  if (coldest.state === "outside" && (coldest.offShare > 0) !== (hottest.offShare > 0)) return bare;
  const lowOhm = expectedOhm(facts, pair, coldC) * (1 - toleranceShare);
  return { ...bare, soundOhm: [lowOhm, mostOhm(facts, { pair, tC: null })], state: coldest.state };
}

/** @param {WindingFacts} facts @param {{pair: string, tC: ?number}} where
 * @returns {number} the most in Ω of a sound winding, at the hottest where nobody knows */
export function mostOhm(facts, { pair, tC }) {
  const hotC = tC === null ? LIMITS.winding_hottest_c : tC;
  return expectedOhm(facts, pair, hotC) * (1 + (facts.toleranceShare || 0));
}

/** Whether zero on this meter is certainly less than a sound winding.
 * @param {WindingFacts} facts @param {{pair: string, meter: Meter, tC: ?number}} where */
function nothingIsLess(facts, { pair, meter, tC }) {
  return windingValue(0, {
    halfOhm: meterHalfOhm(meter, 0), tC: tC === null ? LIMITS.winding_coldest_c : tC,
    partOhm: facts.pairs[pair], partC: facts.atC, allowedShare: facts.toleranceShare || 0,
    constant: facts.constant,
  }).state === "outside";
}

/** @param {WindingFacts} facts @param {string} pair @param {number} tC */
function expectedOhm({ pairs, atC, constant }, pair, tC) {
  return correctedTo(pairs[pair], { fromC: atC, toC: tC, constant });
}
