// The cross on a curve's chart: where the answer of the page's form stands.

/**
 * Where the chart's axes lie in it, as generators/chart.py wrote it down.
 * @typedef {{left: number, right: number, top: number, bottom: number, low_c: number,
 *   high_c: number, bottom_ohm: number, top_ohm: number, log: boolean}} Plot
 */

const ARM = 5;

/** Take the cross away. */
export function unmark() {
  const old = document.querySelector(".ohm-chart-svg .ohm-marker");
  if (old) old.remove();
}

/** Set the cross; a page without a chart has none.
 * @param {number} tC @param {number} rOhm */
export function mark(tC, rOhm) {
  /** @type {?SVGElement} */
  const chart = document.querySelector(".ohm-chart-svg");
  if (!chart) return;
  unmark();
  /** @type {Plot} */
  const plot = JSON.parse(chart.dataset.plot || "{}");
  const x = plot.left + ((tC - plot.low_c) / (plot.high_c - plot.low_c)) * (plot.right - plot.left);
  const y = plot.bottom - height(plot, rOhm) * (plot.bottom - plot.top);
  const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
  path.setAttribute("class", "ohm-marker");
  path.setAttribute("fill", "none");
  path.setAttribute("stroke", "currentColor");
  path.setAttribute("d", `M${plot.left} ${y}H${plot.right}M${x} ${plot.top}V${plot.bottom}` +
    `M${x - ARM} ${y}a${ARM} ${ARM} 0 1 0 ${2 * ARM} 0a${ARM} ${ARM} 0 1 0 ${-2 * ARM} 0`);
  chart.append(path);
}

/** @param {Plot} plot @param {number} rOhm @returns {number} 0 at the bottom, 1 at the top */
function height({ log, bottom_ohm: bottomOhm, top_ohm: topOhm }, rOhm) {
  return log ? Math.log(rOhm / bottomOhm) / Math.log(topOhm / bottomOhm)
    : (rOhm - bottomOhm) / (topOhm - bottomOhm);
}
