// Judge what was taken: at its temperature, or without one where all say the same. Mirrors
// kb/answers/judged.py.

import { PLACEMENTS } from "../catalog.js";
import { judgeAnywhere, meetsOn } from "../numbers/any-temperature.js";
import { judge } from "../numbers/verdict.js";
import { Refusal, statement } from "./statement.js";
import { shownBy, takenAt } from "./tools.js";
import { takenBesideSister } from "./reading-sister.js";
import { ICE, SISTER, placedTemperatureTyped } from "./typed.js";

/**
 * @typedef {import("../numbers/grid.js").Grid} Grid
 * @typedef {import("../numbers/instruments.js").Measured} Measured
 * @typedef {import("../numbers/verdict.js").Verdict} Verdict
 * @typedef {import("./statement.js").Statement} Statement
 * @typedef {import("./tools.js").Tools} Tools
 * What an entry says of a sensor: no words, only what decides. meetsC: lowest and highest in
 * service; instructions: which of when_good, when_bad, when_open, when_short the entry has; labels:
 * curve id → the family's sensors with it; sisters: those on its own curve; twins: that rest elsewhere.
 * @typedef {{curve: Grid, curveId: string, allowK?: number, meetsC?: ?number[],
 *   pullUpOhm?: ?number, supplyV?: ?number, liveV?: ?number, instructions?: string[],
 *   familyCurves?: Object<string, Grid>, labels?: Object<string, string[]>,
 *   otherCurves?: Object<string, Grid>, twins?: string[], sisters?: string[]}} SensorFacts
 * A verdict and what it needed: at is null where no temperature was, and meets says for which it
 * holds; anyPlacement: it was not said how the temperature was taken, and nothing hangs on it.
 * @typedef {{verdict: Verdict, at: ?import("./typed.js").TypedTemperature, measured: Measured,
 *   meets: ?import("../numbers/any-temperature.js").Meets, anyPlacement: boolean,
 *   bySister?: boolean}} Judged
 */

/**
 * @param {SensorFacts} sensor @param {Measured} shown yet without a temperature
 * @param {{at: string, unit: string, tools: Tools, shortOhm?: ?number}} how
 * @returns {Judged}
 * @throws {Refusal} where temperature or placement decides and is not given, or cannot be taken
 */
export function judgeTyped(sensor, shown, { at, unit, tools, shortOhm = null }) {
  const { curve, allowK = 0 } = sensor;
  if (tools.placement === SISTER) {
    const measured = takenBesideSister(sensor, shown, tools);
    return { verdict: judge(curve, measured, { allowK, shortOhm }), at: { tC: measured.tC, unit },
      measured, meets: null, anyPlacement: false, bySister: true };
  }
  if (!at.trim() && tools.placement !== ICE) return judgedAnywhere(sensor, shown, shortOhm);
  const takenAtC = temperatureInRange(sensor, at, { unit, tools });

  /** @param {string} placement @returns {Judged} */
  const judged = (placement) => {
    const measured = takenAt(tools, shown, { tC: takenAtC.tC, placement });
    return { verdict: judge(curve, measured, { allowK, shortOhm }), at: takenAtC, measured,
      meets: null, anyPlacement: !tools.placement };
  };
  if (tools.placement) return judged(tools.placement);
  // The closest first: what holds with it and with the last holds with all between.
  const ways = Object.keys(PLACEMENTS);
  const widest = judged(ways[ways.length - 1]);
  const same = judged(ways[0]).verdict.verdict === widest.verdict.verdict;
  if (!same || widest.verdict.settling) {
    throw new Refusal(statement("field.placement-missing"), { field: "how", missing: true });
  }
  return widest;
}

/** @param {SensorFacts} sensor @param {Measured} shown @param {?number} shortOhm
 * @returns {Judged} */
function judgedAnywhere({ curve, meetsC, allowK = 0 }, shown, shortOhm) {
  const meets = meetsOn(curve, meetsC);
  const verdict = meets && judgeAnywhere(curve, shown, { meets, allowK, shortOhm });
  if (!verdict) {
    throw new Refusal(statement("field.temperature-decides"), { field: "at", missing: true });
  }
  return { verdict, at: null, measured: shown, meets, anyPlacement: false };
}

/** @param {Judged} judged
 * @returns {Statement[]} what was not needed, or took a thermometer's place, in so many words */
export function notNeeded({ meets, anyPlacement, bySister, verdict, measured }) {
  if (bySister) {
    const held = statement("reading.sister", { t_c: measured.tC });
    return verdict.verdict === "outside" ? [held, statement("reading.sister-or-this")] : [held];
  }
  if (meets) return [statement("reading.anywhere", { low_c: meets.lowC, high_c: meets.highC })];
  return anyPlacement ? [statement("reading.any-placement")] : [];
}

/** @param {SensorFacts} sensor @param {string} text @param {{unit?: string, tools: Tools}} how
 * @returns {import("./typed.js").TypedTemperature} or the sister's, in the curve's range, or refused */
export function temperatureInRange(sensor, text, { unit = "C", tools }) {
  if (tools.placement === SISTER) {
    return { tC: takenBesideSister(sensor, shownBy(tools, Infinity), tools).tC, unit };
  }
  const { curve, curveId } = sensor;
  const typed = placedTemperatureTyped(text, { field: "at", placement: tools.placement, unit });
  if (!curve.holds(typed.tC)) {
    throw new Refusal(statement("field.beyond-curve", {
      curve: curveId, t_c: typed.tC, low_c: curve.lowC, high_c: curve.highC,
    }), { field: "at" });
  }
  return typed;
}
