// What a sensor should read at a temperature, before anything was read. Mirrors
// kb/answers/reading_expected.py.

import { voltsAtPlug } from "../numbers/divider.js";
import { temperatureInRange } from "./judged.js";
import { ohmDigits } from "../numbers/ohm-digits.js";
import { statement } from "./statement.js";

/**
 * @typedef {import("./reading.js").ReadingQuestion} ReadingQuestion
 * @typedef {{unit: string, tC: number, digits: number, rOhm: number, partOhm: ?number[],
 *   machineOhm: ?number[], plugV: ?number,
 *   statements: import("./statement.js").Statement[]}} ExpectedAnswer
 */

/** @param {ReadingQuestion} question @returns {ExpectedAnswer} what it should read, before a reading
 * @throws {Refusal} as answerReading */
export function expectedReading(question) {
  const { curve, allowK = 0, pullUpOhm = null, supplyV = null } = question.sensor;
  const { tC, unit } = temperatureInRange(question.sensor, question.at,
    { unit: question.unit, tools: question.tools });
  const partOhm = curve.toleranceKnown ? [curve.low(tC), curve.high(tC)] : null;
  let machineOhm = null;
  if (allowK > curve.tolK(tC)) {
    const ends = [curve.beyondOhm(tC - allowK), curve.beyondOhm(tC + allowK), ...(partOhm || [])];
    machineOhm = [Math.min(...ends), Math.max(...ends)];
  }
  const rOhm = curve.ohm(tC);
  const plugV = pullUpOhm === null || supplyV === null ? null
    : voltsAtPlug(rOhm, { supplyV, pullUpOhm });
  const statements = [statement("reading.expect", { r_ohm: rOhm, t_c: tC })];
  if (partOhm) statements.push(statement("reading.expect-part", { part_ohm: partOhm }));
  if (machineOhm) {
    statements.push(
      statement("reading.expect-machine", { machine_ohm: machineOhm, allow_k: allowK }));
  }
  if (plugV !== null) statements.push(statement("reading.expect-volts", { plug_v: plugV }));
  return { unit, tC, digits: ohmDigits(curve), rOhm, partOhm, machineOhm, plugV, statements };
}
