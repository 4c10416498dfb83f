// The sensor page's form: temperature and reading in, verdict out, as you type.

import { answerReading } from "../answers/reading.js";
import { EXPLAINED } from "../answers/reading-explained.js";
import { expectedReading } from "../answers/reading-expected.js";
import { Refusal } from "../answers/statement.js";
import { SISTER } from "../answers/typed.js";
import { gridOf } from "../numbers/grid.js";
import { phraseAround, sentence } from "../words/phrase.js";
import { boardSides } from "./board-sides.js";
import { el, mainFigure, part } from "./element.js";
import {
  accept, askWhich, fieldsOf, formOf, openForm, refuse, rememberedChoice,
} from "./fields.js";
import { selectOnTap } from "./keys.js";
import { curvesLater, withCurves } from "./late-curves.js";
import { placedTemperature } from "./placed-temperature.js";
import { beyondVerdict, showVerdict } from "./reading-answer.js";
import { sensorReadings } from "./sensor-readings.js";
import { kit, teamShortOhm, toolsOf } from "./team.js";
import { unit } from "./unit.js";

/** @typedef {import("../answers/reading-expected.js").ExpectedAnswer} ExpectedAnswer */
/** @typedef {import("../answers/judged.js").SensorFacts} SensorFacts */

/** @param {HTMLFormElement} form @param {SensorFacts} judged */
function judgeForm(form, judged) {
  let sensor = judged;
  const answer = part(form, "output");
  const more = part(form, ".ohm-more");
  const again = part(form, "[data-again]");
  const clear = part(form, "[data-clear]");
  const { family = "", place = "", sensor: sensorId = "" } = form.dataset;
  /** @type {{at: HTMLInputElement, reading: HTMLInputElement,
   *   meter: HTMLSelectElement, thermometer: HTMLSelectElement, when: RadioNodeList,
   *   sister: HTMLInputElement, "sister-curve": HTMLSelectElement}} */
  const field = fieldsOf(form);
  /** @type {Object<string, string>} */
  const ownSteps = JSON.parse(form.dataset.instructions || "{}");
  /** @type {Object<string, Object<string, string>>} */
  const stepsByCode = JSON.parse(form.dataset.codeSteps || "{}");
  /** @type {Object<string, import("../answers/reading-excluded.js").UnderCode>} */
  const underCodes = JSON.parse(form.dataset.under || "{}");

  const at = placedTemperature(form, {
    name: "at", how: "how", thermometer: "thermometer", family, place,
    changed: (why) => { if (why === "unit") { show(); sides.show(); } else typed(); },
  });
  const readings = sensorReadings(part(form, ".ohm-earlier"), {
    family, sensor: sensorId, otherJob: () => { begin(); }, removed: () => { show(); },
  });

  const sides = boardSides(form, {
    asked: () => asked(),
    keep: (what, typedNow, state) => {
      readings.keep(what, typedNow
        && { typed: { ...typedNow, ...takenWith() }, after: after(), state });
    },
  });
  // A failure leaves what is known: the next reading asks again.
  const bringCurves = curvesLater(answer, () => {
    sensor = withCurves(sensor);
    show();
  });
  const after = () => field.when.value === "after";

  /** In °C as text; nothing where it cannot be read. */
  function temperatureTyped() {
    try { return at.empty() ? "" : String(at.read()); } catch (unreadable) { return ""; }
  }

  function typed() {
    const reading = field.reading.value.trim();
    readings.keep("reading", reading
      ? { typed: { reading, ...takenWith(), ...besideSister() }, after: after() } : null);
    sides.typed();
    show();
  }

  /** What belongs to everything that is typed here. */
  function takenWith() {
    return {
      at: temperatureTyped(), how: at.how(), place,
      meter: field.meter.value, thermometer: field.thermometer.value,
    };
  }

  /** How the reading itself was taken: what a sister reads stands for a temperature.
   * @returns {Object<string, string>} */
  function besideSister() {
    const sister = field.sister.value.trim();
    return sister ? { at: "", how: SISTER, sister, sister_curve: field["sister-curve"].value } : {};
  }

  /** What every question of this form has in common. */
  function asked() {
    return {
      sensor, reading: field.reading.value, at: field.at.value, unit: unit.now(),
      tools: toolsOf({
        meter: field.meter.value, thermometer: field.thermometer.value, how: at.how(),
      }),
      shortOhm: teamShortOhm(),
    };
  }

  /** Another reading, and no temperature that somebody took for the one before. */
  function begin() {
    readings.begin();
    at.clear();
    field.reading.value = field.sister.value = "";
    sides.clear();
    show();
  }

  function show() {
    const { code, shown } = readings.newestCode();
    const codeSteps = stepsByCode[code] || {};
    more.replaceChildren();
    if (field["sister-curve"].value) bringCurves();
    clear.hidden = again.hidden = !field.reading.value.trim();
    [field.at, field.reading, field.sister].forEach((input) => accept(input, answer));
    const question = {
      ...asked(), tools: toolsOf({ ...takenWith(), ...besideSister() }), afterRepair: after(),
      codeInstructions: Object.keys(codeSteps), kit: kit(), under: underCodes[code],
      earlier: readings.earlier(),
    };
    try {
      const found = answerReading(question);
      showVerdict(answer, found);
      more.append(...beyondVerdict(found, { code: codeSteps, sensor: ownSteps, shown }));
      if (EXPLAINED.includes(found.state)) bringCurves();
    } catch (refused) {
      if (!(refused instanceof Refusal)) throw refused;
      if (refused.missing && refused.field === "reading") showExpected(expectedReading(question));
      else showRefusal(refused);
    }
  }

  /** @param {Refusal} refused */
  function showRefusal({ statement, field: name, missing, choices }) {
    const asked = name === "at" ? field.at : name === "reading" ? field.reading
      : name === "sister" ? field.sister : undefined;
    refuse(answer, sentence(statement, { unit: unit.now() }), missing ? undefined : asked);
    if (!choices.length) return;
    const again = asked === field.sister ? asked : field.reading;
    answer.append(askWhich(choices, (instead) => {
      again.value = instead;
      typed();
      if (!instead) again.focus();
    }));
  }

  /** @param {ExpectedAnswer} expected */
  function showExpected(expected) {
    const voice = { unit: unit.now(), digits: expected.digits };
    const [first, ...others] = expected.statements;
    const [before, figure, behind] = phraseAround(first, "r_ohm", voice);
    answer.replaceChildren(
      el("p", "ohm-expect", before, mainFigure(figure), behind),
      ...others.map((finding) => el("p", null, sentence(finding, voice))));
  }

  [field.meter, field.thermometer].forEach(rememberedChoice);
  [field.reading, field.sister].forEach((input) => {
    input.addEventListener("input", typed);
    selectOnTap(input);
  });
  [field.meter, field.thermometer, field["sister-curve"]].forEach((choice) =>
    choice.addEventListener("change", typed));
  // What was taken before a repair says nothing of after it.
  field.when.forEach((way) => way.addEventListener("change", begin));
  again.addEventListener("click", () => {
    readings.begin();
    field.reading.value = "";
    show();
    field.reading.focus();
  });
  clear.addEventListener("click", () => {
    field.reading.value = "";
    typed();
    field.reading.focus();
  });
  openForm(form);
  show();
}

const form = formOf("judge");
if (form) {
  const entry = JSON.parse(form.dataset.facts || "{}");
  const curve = gridOf(entry.curveId);
  if (curve) judgeForm(form, withCurves({ ...entry, curve }));
}
