// Insulation resistance brought to 40 °C and judged. Mirrors kb/numbers/insulation.py.

import { LIMITS } from "../catalog.js";
import { Unreadable, parseReading } from "./notation.js";
import { within } from "./out-of-range.js";
import { decided } from "./verdict.js";

/** Winding temperatures between which the corrections are given (IEEE 43-2013, memory). */
const RANGE = {
  low: LIMITS.insulation_low_c, high: LIMITS.insulation_high_c, unit: "°C",
  what: "the insulation correction",
};
const MATERIALS = ["thermoplastic", "thermoset"];
/** Which row of IEEE 43-2013, Table 3, in MΩ at 40 °C. A small motor is random-wound. */
/** @type {Object<string, function(number): number>} */
const LEAST_MEGOHM = {
  "before-1970": (ratedV) => ratedV / 1000 + 1,
  "form-wound": () => 100,
  "random-wound": () => 5,
};

const BARE_BELOW_OHM = 100e3;
const LETTERED = /[kmgr\u03a9\u2126\u03c9]/i;

/**
 * Testers show 25.0 and mean megohms; taken for 25 ohms it would condemn a good motor.
 * @param {string} text an insulation tester's display
 * @returns {number} ohms; Infinity for OL; zero is zero in any unit
 * @throws {Unreadable} also for a low number with no letter
 */
export function parseInsulation(text) {
  const rOhm = parseReading(text);
  if (rOhm > 0 && rOhm < BARE_BELOW_OHM && !LETTERED.test(text)) {
    throw new Unreadable("of-what", { typed: text.trim() });
  }
  return rOhm;
}

/**
 * IEEE 43-2013, 6.3: thermoplastic halves every 10 K, thermoset by two exponentials in 1/T.
 * @param {number} tC @param {{material: string}} of thermoplastic or thermoset
 * @returns {number} K with R(40 °C) = K R(t)
 * @throws {OutOfRange} outside 10 to 85 °C: warm or cool the winding first
 */
export function factorTo40(tC, { material }) {
  if (!MATERIALS.includes(material)) {
    throw new RangeError(`material '${material}' is neither thermoplastic nor thermoset`);
  }
  const insideC = within(tC, RANGE);
  if (material === "thermoplastic") return Math.pow(0.5, (40 - insideC) / 10);
  // The standard counts 273 and not 273.15 here.
  const steepnessK = insideC < 40 ? 1245 : 4230;
  return Math.exp(-steepnessK * (1 / (insideC + 273) - 1 / 313));
}

/** @param {number} rOhm read at fromC
 * @param {{fromC: number, toC: number, material: string}} how
 * @returns {number} insulation resistance in Ω at toC */
export function broughtToC(rOhm, { fromC, toC, material }) {
  return rOhm * (factorTo40(fromC, { material }) / factorTo40(toC, { material }));
}

/** @param {{winding: string, ratedV: number}} of
 * @returns {number} least Ω at 40 °C after one minute (IEEE 43-2013, Table 3, memory) */
export function standardMinOhm({ winding, ratedV }) {
  const least = LEAST_MEGOHM[winding];
  if (!least) {
    throw new RangeError(
      `winding '${winding}' is not one of ${Object.keys(LEAST_MEGOHM).join(", ")}`);
  }
  return 1e6 * least(ratedV);
}

/** @param {number} tC @param {number} halfK @param {string} material
 * @returns {number} by what share of itself the correction moves at most, within ± halfK */
function warmthShare(tC, halfK, material) {
  const here = factorTo40(tC, { material });
  const ends = [Math.max(tC - halfK, RANGE.low), Math.min(tC + halfK, RANGE.high)];
  return Math.max(...ends.map((endC) => Math.abs(factorTo40(endC, { material }) / here - 1)));
}

/** @param {number} readingOhm @param {number} leastOhm @param {number} share U, of the reading */
function stateOf(readingOhm, leastOhm, share) {
  if (readingOhm === Infinity) return "within";
  const uncertaintyOhm = readingOhm * share;
  if (readingOhm - leastOhm >= uncertaintyOhm) return "within";
  // One limit only: as far below it as a band's |error| is above its limit.
  const shortOhm = Math.max(leastOhm - readingOhm, 0);
  const way = decided(shortOhm, { limitK: 0, uncertaintyK: uncertaintyOhm });
  return way < 0 ? "outside" : "undecided";
}

/** @type {Object<string, string>} Where no correction holds → the state that it may only feign. */
const DOUBTFUL = { cold: "within", hot: "outside" };

/** Nothing at all is too little at any temperature.
 * @param {string} state @param {string} beyond cold or hot, or nothing @param {number} readingOhm
 * @returns {string} what is left of the state where the reading could not be brought anywhere */
function certain(state, beyond, readingOhm) {
  return readingOhm > 0 && state === DOUBTFUL[beyond] ? "undecided" : state;
}

/**
 * @typedef {{whose: string, limitOhm: number, limitC: number, readingOhm: number,
 *   state: string}} LimitCheck whose: part or IEEE 43; state: within, outside or undecided
 *
 * @param {number} rOhm after one minute; Infinity over range, as good as the tester can show
 * @param {{tC: number, material: string, percent?: number, tHalfK?: number, partMinOhm?: ?number,
 *   partLimitC?: number, winding?: string, ratedV?: number}} of the winding's temperature, and how
 *   far it may be off that; the tester's ± per cent; the part's own limit, judged first, and the
 *   temperature it holds at
 * @returns {{at40Ohm: ?number, beyond: string, state: string, checks: LimitCheck[]}} beyond:
 *   cold or hot where no correction holds and it was judged as read, at40Ohm then null; state:
 *   the first check's; the standard's check is left out where it asks for the same
 * @throws {OutOfRange} if the temperature a limit holds at is outside 10 to 85 °C
 */
export function judgeInsulation(rOhm, of) {
  const { tC, material, percent = 0, tHalfK = 0, partMinOhm = null, partLimitC = 40 } = of;
  const { winding = "random-wound", ratedV = 400 } = of;
  const beyond = tC < RANGE.low ? "cold" : tC > RANGE.high ? "hot" : "";
  /** @param {number} toC @param {number} fromC */
  const at = (toC, fromC) => broughtToC(rOhm, { fromC, toC, material });
  const limitOhm = standardMinOhm({ winding, ratedV });
  const limits = [{ whose: "IEEE 43", limitOhm, limitC: 40 }];
  if (partMinOhm !== null) {
    if (partMinOhm === limitOhm && partLimitC === 40) limits.pop();
    limits.unshift({ whose: "part", limitOhm: partMinOhm, limitC: partLimitC });
  }
  const warmth = beyond ? 0 : warmthShare(tC, tHalfK, material);
  const share = 2 * Math.sqrt(((percent / 100) ** 2 + warmth ** 2) / 3);
  const checks = limits.map((limit) => {
    // As read where no correction holds; a limit's own temperature must have one all the same.
    const readingOhm = at(limit.limitC, beyond ? limit.limitC : tC);
    const state = certain(stateOf(readingOhm, limit.limitOhm, share), beyond, readingOhm);
    return { ...limit, readingOhm, state };
  });
  return { at40Ohm: beyond ? null : at(40, tC), beyond, state: checks[0].state, checks };
}
