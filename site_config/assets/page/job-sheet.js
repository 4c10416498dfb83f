// The job on paper: its words part by part, what was measured as a table, the photos that were chosen.

import { nameOf } from "../words/phrase.js";
import { clockTime } from "./clock.js";
import { el, heading } from "./element.js";
import { small } from "./job-measured.js";
import { jobHeads, jobParts } from "./job-text.js";

/** @typedef {import("./job-measured.js").MeasuredLine} MeasuredLine */

/** @param {HTMLElement} sheet
 * @param {{summary: import("./job-text.js").JobInWords, measured: MeasuredLine[],
 *   photos: import("./job-photos.js").Picture[]}} job */
export function jobSheet(sheet, { summary, measured, photos }) {
  const heads = jobHeads(summary).slice(1).map((line) => el("p", null, line));
  const sections = jobParts(summary).filter(({ name }) => name !== "photos").map(({ name, title, lines }) =>
    el("section", null, el("h2", null, title), name === "measured" ? table(measured)
      : el("ul", null, ...lines.map((line) => el("li", null, line)))));
  sheet.replaceChildren(...heads, ...sections, ...pictures(photos));
}

/** @param {MeasuredLine[]} measured @returns {HTMLElement} */
function table(measured) {
  const columns = ["time", "what", "read", "verdict", "with"];
  const head = el("tr", null, ...columns.map((name) => heading("col", nameOf("job-column", name))));
  const rows = measured.map(({ measured: { time, after }, name, read, state, instruments }) =>
    el("tr", null, heading("row", clockTime(time)),
      el("td", null, after ? `${name}, ${small(nameOf("job-column", "after"))}` : name),
      el("td", null, read),
      el("td", null, state ? `${nameOf("verdict", state, "shape")} ${nameOf("verdict", state)}` : "–"),
      el("td", null, instruments.join(", "))));
  return el("table", "ohm-table", el("thead", null, head), el("tbody", null, ...rows));
}

/** @param {import("./job-photos.js").Picture[]} photos @returns {HTMLElement[]} */
function pictures(photos) {
  if (!photos.length) return [];
  return [el("section", null, el("h2", null, nameOf("job-part", "photos")),
    ...photos.map(({ src, words }) => {
      const image = el("img");
      image.src = src;
      image.alt = words;
      return el("figure", "ohm-photo", image, el("figcaption", null, words));
    }))];
}
