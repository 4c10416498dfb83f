// The sensor page's form: temperature and reading in, verdict out, as you type.

import { answerReading, expectedReading } from "../answers/reading.js";
import { Refusal, statement } from "../answers/statement.js";
import { gridOf } from "../numbers/grid.js";
import { formatOhm, formatOhmSpan } from "../numbers/rounding.js";
import { nameOf, phraseAround, sentence } from "../words/phrase.js";
import { el, facts, part } from "./element.js";
import {
  accept, fieldsOf, formOf, openForm, refuse, rememberedChoice, temperatureField,
} from "./fields.js";
import { sayApart, sayT } from "./figures.js";
import { keptFor } from "./kept.js";
import { kit, teamShortOhm, toolsOf } from "./team.js";
import { unit } from "./unit.js";
import { verdictBox } from "./verdict-box.js";

/** @typedef {import("../numbers/grid.js").Grid} Grid */
/** @typedef {import("../answers/reading.js").ExpectedAnswer} ExpectedAnswer */
/** @typedef {import("../answers/reading.js").ReadingAnswer} ReadingAnswer */
/** @typedef {import("../answers/reading.js").SensorFacts} SensorFacts */
/** @typedef {import("../answers/reading-settling.js").Settling} Settling */
/** @typedef {import("../words/phrase.js").Voice} Voice */

/** @param {HTMLFormElement} form @param {SensorFacts} sensor */
function judgeForm(form, sensor) {
  const kept = keptFor(form.dataset.family || "");
  const answer = part(form, "output");
  const more = part(form, ".ohm-more");
  const clear = part(form, "[data-clear]");
  /** @type {{at: HTMLInputElement, reading: HTMLInputElement, how: HTMLSelectElement,
   *   meter: HTMLSelectElement, thermometer: HTMLSelectElement, when: RadioNodeList}} */
  const field = fieldsOf(form);
  /** @type {Object<string, string>} */
  const instructions = JSON.parse(form.dataset.instructions || "{}");
  const at = temperatureField(form, "at", (why) => {
    if (why === "unit") show(); else typed();
  });

  /** A reading before the repair and one after it are kept apart. */
  const place = () => form.dataset.sensor + (after() ? "@after" : "");
  const after = () => field.when.value === "after";

  /** Put back what was typed for this sensor before, here or in the round of its family. */
  function recall() {
    const before = kept.of(place());
    if (before.at !== undefined) at.show(Number(before.at));
    if (before.how) field.how.value = before.how;
    field.reading.value = before.reading || "";
    clear.hidden = !before.reading;
  }

  function keep() {
    const reading = field.reading.value.trim();
    clear.hidden = !reading;
    kept.keep(place(), reading ? {
      at: temperatureTyped(),
      how: field.how.value,
      reading,
      meter: field.meter.value,
      thermometer: field.thermometer.value,
    } : null);
  }

  /** In °C as text; nothing where it cannot be read. */
  function temperatureTyped() {
    try { return String(at.read()); } catch (unreadable) { return undefined; }
  }

  function typed() {
    keep();
    show();
  }

  function show() {
    more.replaceChildren();
    [field.at, field.reading].forEach((input) => accept(input, answer));
    const question = {
      sensor, reading: field.reading.value, at: field.at.value, unit: unit.now(),
      tools: toolsOf({
        meter: field.meter.value, thermometer: field.thermometer.value, how: field.how.value,
      }),
      shortOhm: teamShortOhm(), afterRepair: after(), kit: kit(),
    };
    try {
      showVerdict(answerReading(question));
    } catch (refused) {
      if (!(refused instanceof Refusal)) throw refused;
      if (refused.missing && refused.field === "reading") showExpected(expectedReading(question));
      else refuse(answer, sentence(refused.statement, { unit: unit.now() }), fieldAsked(refused.field));
    }
  }

  /** @param {string} name */
  function fieldAsked(name) {
    if (name === "at") return field.at;
    return name === "reading" ? field.reading : undefined;
  }

  /** @param {ExpectedAnswer} expected */
  function showExpected(expected) {
    const voice = { unit: unit.now(), digits: expected.digits };
    const [first, ...others] = expected.statements;
    const [before, figure, behind] = phraseAround(first, "r_ohm", voice);
    answer.replaceChildren(
      el("p", "ohm-expect", before, el("strong", "ohm-answer-main", figure), behind),
      ...others.map((finding) => el("p", null, sentence(finding, voice))));
  }

  /** @param {ReadingAnswer} found */
  function showVerdict(found) {
    const voice = { unit: unit.now(), digits: found.digits };
    answer.replaceChildren(
      verdictBox(found.state, sentence(found.headline, voice)),
      ...settling(found.settling, voice), ...nextStep(found.instruction));
    if (found.explanations.length) {
      more.append(el("p", null, el("strong", null, nameOf("form", "also-fits"))),
        el("ul", null, ...found.explanations.map((explained) =>
          el("li", null, sentence(explained.statement, voice)))));
    }
    more.append(figures(found));
  }

  /** @param {string} instruction @returns {HTMLElement[]} what follows, in the entry's own words */
  function nextStep(instruction) {
    if (!instruction) return [];
    const words = instruction === "proved" ? sentence(statement("reading.proved"))
      : instructions[instruction];
    return [el("p", "ohm-next", el("strong", null, `${nameOf("form", "next")} `), words)];
  }

  [field.how, field.meter, field.thermometer].forEach(rememberedChoice);
  recall();
  [field.at, field.reading].forEach((input) => input.addEventListener("input", typed));
  [field.how, field.meter, field.thermometer].forEach((choice) =>
    choice.addEventListener("change", typed));
  field.when.forEach((way) => way.addEventListener("change", () => {
    recall();
    show();
  }));
  clear.addEventListener("click", () => {
    field.reading.value = "";
    typed();
    field.reading.focus();
  });
  openForm(form);
  show();
}

/** @param {SensorFacts} entry without curves @param {Grid} curve
 * @returns {SensorFacts} with the curves that its page has brought */
function sensorFacts(entry, curve) {
  /** @type {Object<string, Grid>} */
  const familyCurves = {};
  Object.keys(entry.labels || {}).forEach((curveId) => {
    const grid = gridOf(curveId);
    if (grid) familyCurves[curveId] = grid;
  });
  return { ...entry, curve, familyCurves };
}

/** @param {?Settling} found @param {Voice} voice
 * @returns {HTMLElement[]} what would settle it, in one paragraph */
function settling(found, voice) {
  if (!found) return [];
  const ways = found.ways.map(({ id, name }) => name || nameOf("placement", id, "said"));
  const statements = found.statements
    .concat(ways.length ? [statement("settling.ways", { ways })] : [])
    .concat(found.otherwise ? [found.otherwise] : []);
  return [el("p", "ohm-settle", statements.map((step) => sentence(step, voice)).join(" "))];
}

/** @param {ReadingAnswer} found */
function figures({ verdict, digits }) {
  const { lowOhm, highOhm, limitKnown, tImpliedC, errorK, limitK, uncertaintyK } = verdict;
  const expected = limitKnown ? formatOhmSpan(lowOhm, highOhm, digits) : formatOhm(lowOhm, digits);
  return facts([
    [nameOf("form", "expected"), expected],
    [nameOf("form", "reads-as"), tImpliedC === null ? "" : sayT(tImpliedC)],
    [nameOf("form", "error"), errorK === null ? "" : sayApart(errorK)],
    [nameOf("form", "limit"), limitKnown ? `± ${sayApart(limitK)}` : nameOf("form", "unknown")],
    [nameOf("form", "uncertainty"), uncertaintyK === null ? "" : `± ${sayApart(uncertaintyK)}`],
  ]);
}

const form = formOf("judge");
if (form) {
  const entry = JSON.parse(form.dataset.facts || "{}");
  const curve = gridOf(entry.curveId);
  if (curve) judgeForm(form, sensorFacts(entry, curve));
}
