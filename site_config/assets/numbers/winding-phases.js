// Three windings between three leads: what each has by itself, where the connection is known. Mirrors
// kb/numbers/winding_phases.py.

import { isTriangle } from "./winding-triangle.js";

/** A winding of a delta that has so many times the others is broken. */
const OPEN_TIMES = 5;

/** @typedef {Object<string, number>} Ohms Ω by pair of leads, or by winding */

/** @param {Ohms} ohms @returns {number[]} */
const valuesOf = (ohms) => Object.keys(ohms).map((name) => ohms[name]);

/** @param {number[]} values */
const sum = (values) => values.reduce((all, value) => all + value, 0);

/** @param {Ohms} readingsOhm */
const solvable = (readingsOhm) =>
  isTriangle(Object.keys(readingsOhm)) && valuesOf(readingsOhm).every(Number.isFinite);

/** R(U-V) = U + V, and so on, hence U = (R(U-V) + R(W-U) − R(V-W))/2.
 * @param {Ohms} readingsOhm @returns {Ohms} by lead; empty where no star can read so */
export function starWindings(readingsOhm) {
  if (!solvable(readingsOhm)) return {};
  const pairs = Object.keys(readingsOhm);
  const aroundOhm = sum(valuesOf(readingsOhm));
  /** @type {Ohms} */
  const windings = {};
  pairs.join("-").split("-").forEach((lead) => {
    const own = pairs.filter((pair) => pair.split("-").includes(lead));
    windings[lead] = sum(own.map((pair) => readingsOhm[pair])) - aroundOhm / 2;
  });
  return Math.min(...valuesOf(windings)) > 0 ? windings : {};
}

/** Three leads show no difference between a delta and a star; the delta's winding between U and V
 * has (uv + vw + wu)/w of that star's legs (Kennelly 1899, memory). A broken one leaves w at nothing.
 * @param {Ohms} readingsOhm
 * @returns {Ohms} by pair, Infinity for a broken one; empty where no delta can read so */
export function deltaWindings(readingsOhm) {
  if (!solvable(readingsOhm)) return {};
  const pairs = Object.keys(readingsOhm);
  const aroundOhm = sum(valuesOf(readingsOhm));
  const legs = pairs.map((pair) => aroundOhm / 2 - readingsOhm[pair]);
  const across = legs[0] * legs[1] + legs[0] * legs[2] + legs[1] * legs[2];
  if (!(across > 0 && [...legs].sort((a, b) => a - b)[1] > 0)) return {};
  /** @type {Ohms} */
  const windings = {};
  pairs.forEach((pair, i) => { windings[pair] = legs[i] > 0 ? across / legs[i] : Infinity; });
  return windings;
}

/** @param {Ohms} windingsOhm of a delta @param {string} winding
 * @returns {boolean} whether it has so much more than the others that it is open */
export function isBroken(windingsOhm, winding) {
  const others = Object.keys(windingsOhm).filter((name) => name !== winding);
  return windingsOhm[winding] > OPEN_TIMES * Math.max(...others.map((name) => windingsOhm[name]));
}

/** U of each winding, held against one another: by what it moves as each reading goes from one end of
 * its half-width to the other.
 * @param {Ohms} readingsOhm @param {Ohms} halvesOhm @param {function(Ohms): Ohms} solve
 * @returns {Ohms} empty where one is broken, or would be with a reading that much off */
export function uncertainWindings(readingsOhm, halvesOhm, solve) {
  /** @type {Ohms} */
  const squares = {};
  const names = Object.keys(solve(readingsOhm));
  const known = Object.keys(halvesOhm).every((pair) => {
    const [up, down] = [1, -1].map((way) =>
      solve({ ...readingsOhm, [pair]: readingsOhm[pair] + way * halvesOhm[pair] }));
    names.forEach((name) => {
      squares[name] = (squares[name] || 0) + Math.pow((up[name] - down[name]) / 2, 2);
    });
    return [up, down].every((end) => names.every((name) => end[name] < Infinity));
  });
  /** @type {Ohms} */
  const found = {};
  if (known) names.forEach((name) => { found[name] = 2 * Math.sqrt(squares[name] / 3); });
  return found;
}
