// The curve page's form: resistance from temperature, temperature from resistance, a marker on the chart.

import { gridOf } from "../numbers/grid.js";
import { parseOhm } from "../numbers/notation.js";
import { formatOhm } from "../numbers/rounding.js";
import { el } from "./element.js";
import { accept, readField, refuse, temperatureField } from "./fields.js";
import { sayK, sayOhm, sayT } from "./figures.js";

function curveForm(form, grid) {
  const answer = form.querySelector("output");
  const at = temperatureField(form, "at", (why) => {
    if (why === "unit" && turned) { fromReading(); } else { fromTemperature(); }
  });
  const reading = form.elements.reading;
  let turned = false; // true while the resistance leads

  function say(tC, rOhm) {
    answer.replaceChildren(
      el("strong", "ohm-answer-main",
        turned ? sayT(tC) : sayOhm(grid, rOhm)),
      el("span", null, ` at ${turned ? formatOhm(rOhm) : sayT(tC)}`));
    if (grid.tol) {
      answer.append(el("p", null,
        `A good part reads ${sayOhm(grid, grid.low(tC), grid.high(tC))}` +
        ` there: ± ${sayK(grid.tolK(tC))}.`));
    }
    mark(tC, rOhm);
  }

  function noAnswer(words, input) { refuse(answer, words, input); mark(NaN, NaN); }

  function acceptBoth() {
    [form.elements.at, reading].forEach((one) => { accept(one, answer); });
  }

  function fromTemperature() {
    turned = false;
    reading.value = "";
    acceptBoth();
    if (!form.elements.at.value.trim()) { noAnswer("Type a temperature or a resistance."); return; }
    const tC = readField(form.elements.at, answer, at.read);
    if (tC === null) { mark(NaN, NaN); return; }
    if (!grid.holds(tC)) {
      noAnswer(`This curve holds from ${sayT(grid.lowC)} to ${sayT(grid.highC)}` +
        ". Outside there is no answer.", form.elements.at);
      return;
    }
    say(tC, grid.ohm(tC));
  }

  function fromReading() {
    if (!reading.value.trim()) { fromTemperature(); return; }
    turned = true;
    acceptBoth();
    const rOhm = readField(reading, answer, parseOhm);
    if (rOhm === null) { mark(NaN, NaN); return; }
    if (!(rOhm >= grid.lowOhm && rOhm <= grid.highOhm)) {
      noAnswer(`This curve runs from ${formatOhm(grid.lowOhm)} to ` +
        `${formatOhm(grid.highOhm)}. ${formatOhm(rOhm)} is off it.`, reading);
      return;
    }
    say(grid.tC(rOhm), rOhm);
  }

  /** Set a cross on the chart; not-a-number takes it away. */
  function mark(tC, rOhm) {
    const chart = document.querySelector(".ohm-chart-svg");
    if (!chart) return;
    const old = chart.querySelector(".ohm-marker");
    if (old) { old.remove(); }
    if (!isFinite(tC)) return;
    const plot = JSON.parse(chart.dataset.plot);
    const x = plot.left + ((tC - plot.low_c) / (plot.high_c - plot.low_c)) * (plot.right - plot.left);
    const part = plot.log
      ? Math.log(rOhm / plot.bottom_ohm) / Math.log(plot.top_ohm / plot.bottom_ohm)
      : (rOhm - plot.bottom_ohm) / (plot.top_ohm - plot.bottom_ohm);
    const y = plot.bottom - part * (plot.bottom - plot.top);
    const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
    path.setAttribute("class", "ohm-marker");
    path.setAttribute("fill", "none");
    path.setAttribute("stroke", "currentColor");
    path.setAttribute("d", `M${plot.left} ${y}H${plot.right}M${x} ${plot.top}` +
      `V${plot.bottom}M${x - 5} ${y}a5 5 0 1 0 10 0a5 5 0 1 0 -10 0`);
    chart.append(path);
  }

  form.elements.at.addEventListener("input", fromTemperature);
  reading.addEventListener("input", fromReading);
  form.addEventListener("submit", (event) => { event.preventDefault(); });
  form.hidden = false;
  fromTemperature();
}

const form = document.querySelector('[data-calc="both-ways"]');
const grid = form && gridOf(form.dataset.curve);
if (grid) curveForm(form, grid);
