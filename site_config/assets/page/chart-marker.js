// The reading on a curve's chart: where it stands, and below it how far a good part may be off there.

/**
 * Where the chart's axes lie in it, as generators/chart.py wrote it down.
 * @typedef {{left: number, right: number, top: number, bottom: number, low_c: number,
 *   high_c: number, bottom_ohm: number, top_ohm: number, log: boolean,
 *   kelvin?: {zero: number, each: number}}} Plot
 */

const DOT = 4.5;
/** In units of the chart: half of a bar's cap, how far words stand off, how wide a letter is at most. */
const CAP = 5;
const AWAY = 8;
const LETTER = 7.5;

/** Take the mark away. */
export function unmark() {
  document.querySelectorAll(".ohm-chart-svg .ohm-marker").forEach((old) => old.remove());
}

/** Set the mark; a page without a chart has none.
 * @param {{tC: number, rOhm: number, tolK: ?number}} point
 * @param {string} words what stands at it @param {string} tolerance what stands at its bar */
export function mark({ tC, rOhm, tolK }, words, tolerance) {
  /** @type {?SVGElement} */
  const chart = document.querySelector(".ohm-chart-svg");
  if (!chart) return;
  unmark();
  /** @type {Plot} */
  const plot = JSON.parse(chart.dataset.plot || "{}");
  const x = plot.left + ((tC - plot.low_c) / (plot.high_c - plot.low_c)) * (plot.right - plot.left);
  const y = plot.bottom - height(plot, rOhm) * (plot.bottom - plot.top);
  // To its axes, not across: what lies beyond the point says nothing.
  let lines = `M${plot.left} ${y}H${x}V${plot.bottom}`;
  let ends = "";
  if (plot.kelvin && tolK) {
    const far = tolK * plot.kelvin.each;
    const [low, high] = [plot.kelvin.zero + far, plot.kelvin.zero - far];
    lines += `V${high}`;
    ends = `M${x} ${high}V${low}M${x - CAP} ${high}h${2 * CAP}M${x - CAP} ${low}h${2 * CAP}`;
  }
  chart.append(
    made("path", { d: lines, "stroke-dasharray": "2 3" }),
    made("path", { d: ends, class: "ohm-marker ohm-marker-bar" }),
    made("circle", { cx: x, cy: y, r: DOT }),
    beside(plot, { x, y, words }));
  if (ends && plot.kelvin) {
    const at = plot.kelvin.zero - (tolK || 0) * plot.kelvin.each - 5;
    const text = beside(plot, { x, y: at, words: tolerance });
    text.setAttribute("y", String(at));
    chart.append(text);
  }
}

/** @param {string} tag @param {Object<string, string|number>} attributes */
function made(tag, attributes) {
  const element = document.createElementNS("http://www.w3.org/2000/svg", tag);
  const all = Object.assign({ class: "ohm-marker", stroke: "currentColor", fill: "none" }, attributes);
  Object.keys(all).forEach((name) => element.setAttribute(name, String(all[name])));
  return element;
}

/** Words beside a point, on the side of the curve that it does not cross, within the plot.
 * @param {Plot} plot @param {{x: number, y: number, words: string}} at */
function beside({ right, log }, { x, y, words }) {
  const toLeft = x + words.length * LETTER + AWAY > right;
  // A falling curve leaves room above to the right and below to the left, a rising the other way.
  const above = toLeft !== log;
  const text = made("text", {
    x: toLeft ? x - AWAY : x + AWAY, y: above ? y - AWAY : y + 2 * AWAY,
    "text-anchor": toLeft ? "end" : "start", fill: "currentColor",
  });
  text.textContent = words;
  return text;
}

/** @param {Plot} plot @param {number} rOhm @returns {number} 0 at the bottom, 1 at the top */
function height({ log, bottom_ohm: bottomOhm, top_ohm: topOhm }, rOhm) {
  return log ? Math.log(rOhm / bottomOhm) / Math.log(topOhm / bottomOhm)
    : (rOhm - bottomOhm) / (topOhm - bottomOhm);
}
