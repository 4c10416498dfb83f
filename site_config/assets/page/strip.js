// Where the error may be, as a picture: a thick bar, and under it the limits, each on a line with its
// name. Shape and words say it; colour says nothing.

import { statement } from "../answers/statement.js";
import { nameOf, phrase } from "../words/phrase.js";
import { sayApart } from "./figures.js";
import { unit } from "./unit.js";

const SVG = "http://www.w3.org/2000/svg";
/** In px: half of the strip, its middle, from line to line. */
const HALF = 104;
const MIDDLE = 232;
const LINE = 20;
const ROOM = 1.15;

/** @param {string} tag @param {Object<string, string|number>} attributes @param {string} [words] */
function svg(tag, attributes, words = "") {
  const made = document.createElementNS(SVG, tag);
  Object.keys(attributes).forEach((name) => made.setAttribute(name, String(attributes[name])));
  made.textContent = words;
  return made;
}

/** A limit far beyond the bar is left to its sentence: it would press all else together.
 * @param {import("../answers/reading-excluded.js").Excluded} excluded @returns {Element[]} */
export function strip({ errorK, lowK, highK, limits }) {
  if (!limits.length) return [];
  const near = limits.filter(({ name }) => name !== "code").map((limit) => limit.highK || 0);
  const reachK = ROOM * Math.max(-lowK, highK, ...near);
  /** @param {number} k */
  const x = (k) => Math.round(MIDDLE + HALF * Math.min(Math.max(k / reachK, -1), 1));
  /** @param {import("../answers/reading-excluded.js").Held} limit */
  const sizeK = (limit) => Math.min(Math.abs(limit.lowK || Infinity), Math.abs(limit.highK || Infinity));
  const shown = limits.filter((limit) => sizeK(limit) <= reachK);
  const range = phrase(statement("strip.range", { low_k: lowK, high_k: highK }), { unit: unit.now() });
  const names = shown.map((limit) => {
    const both = limit.lowK !== null && limit.highK !== null;
    return `${nameOf("strip", limit.name)} ${both ? "± " : ""}${sayApart(sizeK(limit))}`;
  });
  const high = LINE * (shown.length + 1);
  const lines = shown.map((limit, i) => {
    const y = LINE * (i + 1.5);
    const ends = [limit.lowK, limit.highK].filter((k) => k !== null && Math.abs(k) <= reachK)
      .map((k) => x(Number(k)));
    const across = ends.length > 1 ? `M${ends[0]} ${y}H${ends[1]}` : "";
    return across + ends.map((end) => `M${end} ${y - 6}v12`).join("");
  });
  const picture = svg("svg", {
    class: "ohm-strip", viewBox: `0 0 340 ${high}`, role: "img",
    "aria-label": [range].concat(names).join("; "),
  });
  picture.append(
    svg("path", { d: `M${MIDDLE} 0V${high}`, "stroke-dasharray": "2 3" }),
    svg("path", { d: `M${x(lowK)} 10H${x(highK)}`, class: "ohm-strip-bar" }),
    svg("circle", { cx: x(errorK), cy: 10, r: 3.5 }),
    svg("path", { d: lines.join("") }),
    ...[nameOf("strip", "may-be")].concat(names)
      .map((name, i) => svg("text", { x: 0, y: LINE * i + 15 }, name)));
  return [picture];
}
