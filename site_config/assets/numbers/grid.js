// A curve's compiled grid: ln R, straight between its nodes. Mirrors kb/numbers/grid.py.

import { within } from "./out-of-range.js";

/**
 * A curve as Python compiled it; without a band where nobody knows the part's tolerance. Nodes are
 * whole millionths of ln Ω and ten-thousandths of a kelvin, written by how they bend: the first,
 * the step to the second, and how much each step grows. The band stands beside the nominal; one of
 * several pieces has bands, each from its own temperature to the next one's.
 * @typedef {{from_c?: number, below_e6?: number[], above_e6?: number[], tol_k_e4?: number[]}} Piece
 * @typedef {Piece & {t0_c: number, high_c: number, step_k: number, ln_e6: number[],
 *   bands?: Piece[], law_k_e4?: number[], worst_error_k: number}} Compiled
 * @typedef {{fromC: number, toC: number, below: number[], above: number[], tol: number[]}} Band
 */

const LN_PARTS = 1e6;
const TOL_PARTS = 1e4;

/** @param {number[]} bends @returns {number[]} the whole numbers that were written so */
function straightened(bends) {
  let step = 0;
  let at = bends[0];
  return bends.map((bend, i) => {
    if (i > 0) {
      step += bend;
      at += step;
    }
    return at;
  });
}

/** @param {number[]} [bends] @param {number} [parts] @returns {number[]} */
function nodesOf(bends = [], parts = 1) { return straightened(bends).map((node) => node / parts); }

/** On the straight line through two points, counted from the left one.
 * @param {number} x @param {{x: number, y: number}} left @param {{x: number, y: number}} right */
function joined(x, left, right) {
  const slope = (right.y - left.y) / (right.x - left.x);
  return slope * (x - left.x) + left.y;
}

/** @param {number} value @param {number} low @param {number} high */
function clipped(value, low, high) {
  return Math.min(Math.max(value, low), high);
}

/** Answers like a curve: outside its range it throws OutOfRange, it never extrapolates. */
export class Grid {
  /** @param {Compiled} data @param {string} [id] its name in the notes */
  constructor(data, id) {
    this.id = id || "";
    this.lowC = data.t0_c;
    this.highC = data.high_c;
    this.stepK = data.step_k;
    this.ln = nodesOf(data.ln_e6, LN_PARTS);
    const pieces = data.bands || (data.tol_k_e4 ? [data] : []);
    /** @type {Band[]} */
    this.bands = pieces.map((piece, i) => ({
      fromC: i ? Number(piece.from_c) : this.lowC,
      toC: i + 1 < pieces.length ? Number(pieces[i + 1].from_c) : this.highC,
      below: nodesOf(piece.below_e6, LN_PARTS), above: nodesOf(piece.above_e6, LN_PARTS),
      tol: nodesOf(piece.tol_k_e4, TOL_PARTS),
    }));
    this.toleranceKnown = this.bands.length > 0;
    this.law = data.law_k_e4 ? nodesOf(data.law_k_e4, TOL_PARTS) : null;
    this.last = this.ln.length - 1;
    this.falling = this.ln[this.last] < this.ln[0];
    // The last step may be short.
    this.nodesC = this.ln.map((_, i) =>
      (i === this.last ? this.highC : this.lowC + this.stepK * i));
    const ends = [this.ln[0], this.ln[this.last]];
    this.lowLn = Math.min(...ends);
    this.highLn = Math.max(...ends);
    this.lowOhm = Math.exp(this.lowLn);
    this.highOhm = Math.exp(this.highLn);
  }

  /** @param {number} tC @returns {boolean} */
  holds(tC) { return tC >= this.lowC && tC <= this.highC; }

  /** @param {number} tC @returns {number} Ω of a nominal part */
  ohm(tC) { return Math.exp(this._at(this._inside(tC), this.ln)); }

  /** @param {number} tC @returns {number} lowest Ω of a good part */
  low(tC) { return this.ohm(tC) * Math.exp(-this._widest(tC, "below")); }

  /** @param {number} tC @returns {number} highest Ω of a good part */
  high(tC) { return this.ohm(tC) * Math.exp(this._widest(tC, "above")); }

  /** @param {number} tC @returns {number} ± K of a good part; 0 where nobody knows */
  tolK(tC) { return this._widest(tC, "tol"); }

  /** @param {number} tC @returns {number} ± K that the curve itself may be off the part */
  lawK(tC) {
    const insideC = this._inside(tC);
    return this.law ? this._at(insideC, this.law) : 0;
  }

  /** R times the slope of the piece to the right.
   * @param {number} tC @returns {number} dR/dT, Ω/K */
  slope(tC) {
    const insideC = this._inside(tC);
    return Math.exp(this._at(insideC, this.ln)) * this._rate(this._piece(insideC));
  }

  /** @param {number} rOhm @returns {number} °C at which a nominal part reads that */
  tC(rOhm) {
    const range = { low: this.lowOhm, high: this.highOhm, unit: "Ω", what: this._what() };
    return this._crossing(Math.log(within(rOhm, range)));
  }

  /** Past an end along the end's piece: for bands only.
   * @param {number} tC @returns {number} Ω */
  beyondOhm(tC) {
    const insideC = clipped(tC, this.lowC, this.highC);
    const rate = this._rate(tC < insideC ? 0 : this.last - 1);
    return Math.exp(this._at(insideC, this.ln) + (tC - insideC) * rate);
  }

  /** Past an end along the end's piece: for bands only.
   * @param {number} rOhm @returns {number} °C */
  beyondC(rOhm) {
    const ln = Math.log(rOhm);
    const inside = clipped(ln, this.lowLn, this.highLn);
    const cold = this.falling ? ln > inside : ln < inside;
    return this._crossing(inside) + (ln - inside) / this._rate(cold ? 0 : this.last - 1);
  }

  /** @param {number} tC @returns {number} which piece of the grid it lies in */
  _piece(tC) {
    return clipped(Math.floor((tC - this.lowC) / this.stepK), 0, this.last - 1);
  }

  /** @param {number} i a piece @returns {number} d ln R/dT of it, per K */
  _rate(i) {
    return (this.ln[i + 1] - this.ln[i]) / (this.nodesC[i + 1] - this.nodesC[i]);
  }

  /** Where two pieces meet the wider holds.
   * @param {number} tC @param {"below"|"above"|"tol"} column @returns {number} */
  _widest(tC, column) {
    const insideC = this._inside(tC);
    return Math.max(0, ...this.bands
      .filter(({ fromC, toC }) => fromC <= insideC && insideC <= toC)
      .map((band) => this._at(insideC, band[column], band)));
  }

  /** @param {number} insideC @param {number[]} nodes one value per node
   * @param {?Band} [band] whose nodes they are; without one the grid's */
  _at(insideC, nodes, band) {
    const [fromC, toC] = band ? [band.fromC, band.toC] : [this.lowC, this.highC];
    const last = nodes.length - 1;
    const i = clipped(Math.floor((insideC - fromC) / this.stepK), 0, last - 1);
    const right = i + 1 === last ? toC : fromC + this.stepK * (i + 1);
    return joined(insideC,
      { x: fromC + this.stepK * i, y: nodes[i] }, { x: right, y: nodes[i + 1] });
  }

  /** @param {number} wanted @returns {number} °C at which ln R is that, found by halving */
  _crossing(wanted) {
    let cold = 0;
    let hot = this.last;
    while (hot - cold > 1) {
      const middle = (cold + hot) >> 1;
      const before = this.falling ? this.ln[middle] > wanted : this.ln[middle] <= wanted;
      if (before) cold = middle; else hot = middle;
    }
    // From the end of the lower resistance, as Python does: the last digits then agree.
    const [from, to] = this.falling ? [hot, cold] : [cold, hot];
    return joined(wanted,
      { x: this.ln[from], y: this.nodesC[from] }, { x: this.ln[to], y: this.nodesC[to] });
  }

  /** @param {number} tC */
  _inside(tC) {
    return within(tC, { low: this.lowC, high: this.highC, unit: "°C", what: this._what() });
  }

  _what() { return this.id ? `curve ${this.id}` : "this curve"; }
}

/** @type {Map<string, Grid>} */
const opened = new Map();

/** @param {string} id @returns {?Grid} the curve, once its script has run */
export function gridOf(id) {
  const data = globalThis.OhmCurves && globalThis.OhmCurves[id];
  if (!data) return null;
  const grid = opened.get(id) || new Grid(data, id);
  opened.set(id, grid);
  return grid;
}
