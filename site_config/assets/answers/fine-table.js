// A curve's table of every degree, in pieces: which degrees, and the row of each. The terminal has no
// such table; a row is answered as any other temperature.

import { ohmAt } from "./curve-lookup.js";

/**
 * @typedef {import("../numbers/grid.js").Grid} Grid
 * First and last whole degree of a piece, in the unit shown.
 * @typedef {[number, number]} Piece
 */

const PIECE = 50;
/** So many rows more than a piece do not begin another. */
const SPARE = 10;
/** A bound that has been through °F comes back a few last digits off: no excursion. */
const SLACK = 1e-9;
const HOME_C = 20;

/** @param {number} tC @param {string} unit */
const degreeOf = (tC, unit) => (unit === "F" ? Math.round(((tC * 9) / 5 + 32) * 1e6) / 1e6 : tC);

/** @param {Grid} grid @param {string} unit C or F @returns {Piece[]} the coldest first */
export function degreePieces(grid, unit) {
  const low = Math.ceil(degreeOf(grid.lowC, unit) - SLACK);
  const high = Math.floor(degreeOf(grid.highC, unit) + SLACK);
  if (high - low <= PIECE + SPARE) return [[low, high]];
  /** @type {Piece[]} */
  const found = [];
  for (let from = Math.floor(low / PIECE) * PIECE; from < high; from += PIECE) {
    found.push([Math.max(from, low), Math.min(from + PIECE, high)]);
  }
  return found;
}

/** @param {Piece[]} pieces @param {string} unit @returns {Piece} the one to open first */
export function homePiece(pieces, unit) {
  const home = degreeOf(HOME_C, unit);
  return pieces.find(([from, to]) => home >= from && home <= to) || pieces[0];
}

/** @param {Grid} grid @param {Piece} piece @param {string} unit
 * @returns {Array<{degree: number, point: import("./curve-lookup.js").LookedUp}>} */
export function degreeRows(grid, [from, to], unit) {
  const rows = [];
  for (let degree = from; degree <= to; degree++) {
    rows.push({ degree, point: ohmAt(String(degree), { curve: grid, curveId: grid.id, unit }) });
  }
  return rows;
}
