// The sensor page's form: temperature and reading in, verdict out, as you type.

import { judgeTyped } from "./judge-typed.js";
import { voltsAtPlug } from "../numbers/divider.js";
import { explain } from "../numbers/explanations.js";
import { gridOf } from "../numbers/grid.js";
import { parseReading } from "../numbers/notation.js";
import { formatVolts } from "../numbers/rounding.js";
import { expectedOhm } from "../numbers/verdict.js";
import { el, facts } from "./element.js";
import { accept, readField, refuse, rememberedChoice, temperatureField } from "./fields.js";
import { sayK, sayOhm, sayT } from "./figures.js";
import { keptFor } from "./kept.js";
import { verdictBox } from "./verdict-box.js";
import { sayExplanation, saySettling, sayVerdict } from "./verdict-words.js";

function judgeForm(form, grid) {
  const told = form.dataset;
  const kept = keptFor(told.family);
  const answer = form.querySelector("output");
  const more = form.querySelector(".ohm-more");
  const clear = form.querySelector("[data-clear]");
  const field = form.elements;
  const sensor = { curve: told.curve, allow_k: Number(told.allowK) };
  const pullUp = told.pullUp ? Number(told.pullUp) : null;
  const others = JSON.parse(told.others).reduce((found, one) => {
    const curve = gridOf(one.curve);
    if (curve) { found[one.curve] = { label: one.label, grid: curve }; }
    return found;
  }, {});
  const at = temperatureField(form, "at", (why) => {
    if (why === "unit") { judge(); } else { typed(); }
  });

  /** A reading before the repair and one after it are kept apart. */
  function place() { return told.sensor + (field.when.value === "after" ? "@after" : ""); }

  /** Put back what was typed for this sensor before, here or in the round of its family. */
  function recall() {
    const before = kept.of(place());
    if (before.at !== undefined) { at.show(Number(before.at)); }
    if (before.how) { field.how.value = before.how; }
    field.reading.value = before.reading || "";
    clear.hidden = !before.reading;
  }

  function keep() {
    const reading = field.reading.value.trim();
    const tC = readable(at.read);
    clear.hidden = !reading;
    kept.keep(place(), reading ? {
      at: tC === null ? undefined : String(tC),
      how: field.how.value,
      reading,
      meter: field.meter.value,
      thermometer: field.thermometer.value,
    } : null);
  }

  function readable(read) { try { return read(); } catch (unreadable) { return null; } }

  function typed() { keep(); judge(); }

  function judge() {
    more.replaceChildren();
    [field.at, field.reading].forEach((one) => { accept(one, answer); });
    if (!field.at.value.trim()) { refuse(answer, "Type the temperature at the sensor.", field.at); return; }
    const tC = readField(field.at, answer, at.read);
    if (tC === null) return;
    if (!grid.holds(tC)) {
      refuse(answer, `The curve holds from ${sayT(grid.lowC)} to ${sayT(grid.highC)}` +
        ". Outside there is no answer.", field.at);
      return;
    }
    if (!field.reading.value.trim()) { expect(tC); return; }
    const rOhm = readField(field.reading, answer, parseReading);
    if (rOhm !== null) { show(tC); }
  }

  /** No reading yet: say what to expect. */
  function expect(tC) {
    const lines = [el("p", "ohm-expect", el("span", null, "Expect "),
      el("strong", "ohm-answer-main", sayOhm(grid, grid.ohm(tC))), ` at ${sayT(tC)}`)];
    if (grid.tol) {
      lines.push(el("p", null, `A new part reads ${sayOhm(grid, grid.low(tC), grid.high(tC))}.`));
    }
    if (sensor.allow_k > grid.tolK(tC)) {
      const band = expectedOhm(grid, tC, sensor.allow_k);
      lines.push(el("p", null, `The machine accepts ${sayOhm(grid, band.lowOhm, band.highOhm)}` +
        ` (± ${sayK(sensor.allow_k)}).`));
    }
    if (pullUp) {
      lines.push(el("p", null, "Plugged in and powered, its plug carries " +
        `${formatVolts(voltsAtPlug(grid.ohm(tC), { supplyV: Number(told.supply), pullUpOhm: pullUp }))}.`));
    }
    answer.replaceChildren(...lines);
  }

  function show(tC) {
    let judged;
    try {
      judged = judgeTyped(sensor, {
        at: String(tC), how: field.how.value, reading: field.reading.value,
        meter: field.meter.value, thermometer: field.thermometer.value,
      });
    } catch (outside) {
      // A thermometer has a range of its own.
      refuse(answer, `${outside.message}.`);
      return;
    }
    const verdict = judged.verdict;
    const settle = saySettling(verdict);
    const next = nextStep(verdict.verdict);
    const lines = [verdictBox(verdict.verdict, sayVerdict(verdict, judged))];
    if (settle) { lines.push(el("p", "ohm-settle", settle)); }
    if (next) { lines.push(el("p", "ohm-next", el("strong", null, "Next: "), next)); }
    answer.replaceChildren(...lines);
    const also = explained(judged);
    if (also.length) {
      more.append(el("p", null, el("strong", null, "It would also fit: ")),
        el("ul", null, ...also));
    }
    more.append(facts([
      ["Expected", sayOhm(grid, verdict.lowOhm, verdict.highOhm)],
      ["Reads as at", verdict.tImpliedC === null ? "" : sayT(verdict.tImpliedC)],
      ["Error", verdict.errorK === null ? "" : sayK(verdict.errorK)],
      ["Limit", `± ${sayK(verdict.limitK)}`],
      ["Uncertainty", verdict.uncertaintyK === null ? "" : `± ${sayK(verdict.uncertaintyK)}`],
    ]));
  }

  /** What follows: after a repair a good reading is proved, not looked into. */
  function nextStep(verdict) {
    if (verdict === "undecided") return null;
    if (verdict === "within") {
      return field.when.value === "after"
        ? "Clear the code, watch what its page says to watch, and gather the job below." : told.good;
    }
    return { open: told.open, short: told.short }[verdict] || told.bad;
  }

  /** @returns {Element[]} the other explanations that fit, each with its number */
  function explained(judged) {
    if (judged.verdict.verdict === "within" || judged.verdict.verdict === "undecided") return [];
    const curves = {};
    Object.keys(others).forEach((id) => { curves[id] = others[id].grid; });
    return explain(grid, judged.measured, { allowK: sensor.allow_k, pullUpOhm: pullUp, others: curves })
      .map((one) => {
        return el("li", null, sayExplanation(one, (id) => others[id].label));
      });
  }

  [field.how, field.meter, field.thermometer].forEach(rememberedChoice);
  recall();
  ["at", "reading"].forEach((name) => { field[name].addEventListener("input", typed); });
  ["how", "meter", "thermometer"].forEach((name) => {
    field[name].addEventListener("change", typed);
  });
  field.when.forEach((way) => {
    way.addEventListener("change", () => {
      recall();
      judge();
    });
  });
  clear.addEventListener("click", () => {
    field.reading.value = "";
    typed();
    field.reading.focus();
  });
  form.addEventListener("submit", (event) => { event.preventDefault(); });
  form.hidden = false;
  judge();
}

const form = document.querySelector('[data-calc="judge"]');
const grid = form && gridOf(form.dataset.curve);
if (grid) judgeForm(form, grid);
