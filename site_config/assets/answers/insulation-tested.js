// An insulation test as typed: refused where it does harm, then with which tester it was read.
// Mirrors kb/answers/insulation_tested.py.

import { parseInsulation } from "../numbers/insulation.js";
import { Refusal, statement } from "./statement.js";
import { readTyped } from "./typed.js";

/**
 * What an entry says of a part's insulation. wound: a motor winding; hermetic: one in refrigerant;
 * board: a test destroys it.
 * @typedef {{name: string, minOhm: number, limitC: number, testVolts: number, material: string,
 *   wound: boolean, hermetic: boolean, board: boolean, ratedVolts: ?number,
 *   formWound: boolean}} InsulationFacts ratedVolts: between lines; formWound: preformed coils
 * One test voltage: the most that is shown there, and its ± per cent.
 * @typedef {{volts: number, maxOhm: number, percent: number}} InsulationVoltage
 * @typedef {{id: string, name: string, voltages: InsulationVoltage[]}} NamedTester
 * A test that may be judged. mostOhm: the most that the tester shows, Infinity where nobody knows;
 * overRange: no figure, or one beyond its end.
 * @typedef {{volts: number, tester: ?NamedTester, used: ?InsulationVoltage, rOhm: number,
 *   mostOhm: number, overRange: boolean}} Tested
 */

const VOLTS = /^(\d+(?:[.,]\d+)?) ?V?$/i;

/**
 * What may hurt is refused first: a board, a voltage too high; then what cannot be read.
 * @param {InsulationFacts} part
 * @param {{volts: string, reading: string, testers: NamedTester[], tester: string}} typed
 * @returns {Tested}
 * @throws {Error} Refusal
 */
export function tested(part, { volts, reading, testers, tester }) {
  if (part.board) throw new Refusal(statement("insulation.board", { part: part.name }));
  const testVolts = typedVolts(volts, part);
  if (testVolts > part.testVolts) {
    throw new Refusal(statement("insulation.too-high",
      { part: part.name, most_volts: part.testVolts, test_volts: testVolts }), { field: "volts" });
  }
  const found = testerOf(testers, { tester, volts: testVolts });
  const rOhm = typedInsulationOhm(reading, "reading");
  const mostOhm = found.used ? found.used.maxOhm : Infinity;
  return { volts: testVolts, ...found, rOhm, mostOhm, overRange: rOhm === Infinity || rOhm > mostOhm };
}

/** @param {string} text @param {InsulationFacts} part */
function typedVolts(text, part) {
  if (!text.trim()) {
    throw new Refusal(statement("insulation.volts-missing", { most_volts: part.testVolts }),
      { field: "volts", missing: true });
  }
  const found = VOLTS.exec(text.trim());
  const volts = found ? Number(found[1].replace(",", ".")) : 0;
  if (!(volts > 0 && volts < Infinity)) {
    throw new Refusal(statement("insulation.no-voltage", { typed: text.trim() }), { field: "volts" });
  }
  return volts;
}

/** @param {string} text @param {string} field
 * @returns {number} Infinity over range */
export function typedInsulationOhm(text, field) {
  if (!text.trim()) {
    throw new Refusal(statement("insulation.reading-missing"), { field, missing: true });
  }
  return readTyped(text, field, parseInsulation);
}

/** The tester named, or the only one of that voltage; null where nobody can tell.
 * @param {NamedTester[]} testers @param {{tester: string, volts: number}} asked
 * @returns {{tester: ?NamedTester, used: ?InsulationVoltage}} */
function testerOf(testers, { tester, volts }) {
  const asked = testers.filter(({ id }) => !tester || id === tester);
  /** @type {Array<{tester: NamedTester, used: InsulationVoltage}>} */
  const found = [];
  asked.forEach((named) => named.voltages.filter((own) => own.volts === volts)
    .forEach((used) => found.push({ tester: named, used })));
  if (tester && asked.length && !found.length) {
    throw new Refusal(statement("insulation.lacks-voltage", {
      instrument: asked[0].name, own_volts: asked[0].voltages.map((own) => own.volts),
      test_volts: volts,
    }), { field: "volts" });
  }
  return found.length === 1 ? found[0] : { tester: null, used: null };
}

/** @param {InsulationFacts} part
 * @returns {string} its row in IEEE 43-2013, Table 3: form-wound below 1 kV counts as random-wound */
export const windingRow = ({ formWound, ratedVolts }) =>
  (formWound && (ratedVolts || 0) >= 1000 ? "form-wound" : "random-wound");
