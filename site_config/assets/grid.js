// Interpolate a curve's compiled grid: ln R, straight between nodes. Mirrors kb/numbers/grid.py.
(function (Ohm) {
  "use strict";

  /**
   * A curve as the page computes it.
   * @typedef {{t0_c: number, high_c: number, step_k: number, ln_ohm: number[], ln_low?: number[],
   *   ln_high?: number[], tol_k?: number[], worst_error_k: number}} Compiled
   */

  /** @param {Compiled} data */
  function Grid(data) {
    this.lowC = data.t0_c;
    this.highC = data.high_c;
    this.step = data.step_k;
    this.ln = data.ln_ohm;
    this.lnLow = data.ln_low || data.ln_ohm;
    this.lnHigh = data.ln_high || data.ln_ohm;
    this.tol = data.tol_k || null;
    this.last = this.ln.length - 1;
    this.falling = this.ln[this.last] < this.ln[0];
    var ends = [Math.exp(this.ln[0]), Math.exp(this.ln[this.last])].sort(function (a, b) {
      return a - b;
    });
    this.lowOhm = ends[0];
    this.highOhm = ends[1];
  }

  /** @param {number} i @returns {number} °C of node i; the last step may be short */
  Grid.prototype.nodeC = function (i) {
    return i === this.last ? this.highC : this.lowC + this.step * i;
  };

  /** @param {number} tC @returns {boolean} */
  Grid.prototype.holds = function (tC) {
    return tC >= this.lowC && tC <= this.highC;
  };

  /** @param {number} tC @returns {number} index of the straight piece to the right of tC */
  Grid.prototype.piece = function (tC) {
    return Math.max(0, Math.min(this.last - 1, Math.floor((tC - this.lowC) / this.step)));
  };

  /** @param {number} tC @param {number[]} nodes @returns {number} NaN outside the range */
  Grid.prototype.at = function (tC, nodes) {
    if (!this.holds(tC)) { return NaN; }
    var i = this.piece(tC);
    var left = this.nodeC(i);
    var part = (tC - left) / (this.nodeC(i + 1) - left);
    return nodes[i] + part * (nodes[i + 1] - nodes[i]);
  };

  /** @param {number} tC @returns {number} Ω */
  Grid.prototype.ohm = function (tC) { return Math.exp(this.at(tC, this.ln)); };

  /** @param {number} tC @returns {number} lowest Ω of a good part */
  Grid.prototype.low = function (tC) { return Math.exp(this.at(tC, this.lnLow)); };

  /** @param {number} tC @returns {number} highest Ω of a good part */
  Grid.prototype.high = function (tC) { return Math.exp(this.at(tC, this.lnHigh)); };

  /** @param {number} tC @returns {number} ± K of a good part; 0 where nobody knows */
  Grid.prototype.tolK = function (tC) { return this.tol ? this.at(tC, this.tol) : 0; };

  /** @param {number} tC @returns {number} dR/dT, Ω/K */
  Grid.prototype.slope = function (tC) {
    var i = this.piece(tC);
    var rate = (this.ln[i + 1] - this.ln[i]) / (this.nodeC(i + 1) - this.nodeC(i));
    return this.ohm(tC) * rate;
  };

  /** @param {number} rOhm @returns {number} °C; NaN outside the grid's ohms */
  Grid.prototype.tC = function (rOhm) {
    if (!(rOhm >= this.lowOhm && rOhm <= this.highOhm)) { return NaN; }
    var wanted = Math.log(rOhm);
    var low = 0, high = this.last;
    while (high - low > 1) {
      var middle = (low + high) >> 1;
      if ((this.ln[middle] > wanted) === this.falling) { low = middle; } else { high = middle; }
    }
    var part = (wanted - this.ln[low]) / (this.ln[high] - this.ln[low]);
    var left = this.nodeC(low);
    return left + part * (this.nodeC(high) - left);
  };

  Ohm.Grid = Grid;

  /** @param {string} id @returns {?Grid} the curve, once its script has run */
  Ohm.curve = function (id) {
    var data = globalThis.OhmCurves && globalThis.OhmCurves[id];
    if (!data) { return null; }
    return data.grid || (data.grid = new Grid(data));
  };
})((globalThis.Ohm = globalThis.Ohm || {}));
