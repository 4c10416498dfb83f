// Drills that are put in order: which suspect first, and what makes a machine safe. Mirrors
// kb/answers/drill_order.py.

import { choicesOf, differentWords, drillOf, unstopped } from "./drill.js";
import { statement } from "./statement.js";

/**
 * @typedef {import("./drill.js").Drill} Drill
 * @typedef {import("./drill.js").DrillNotes} DrillNotes
 * @typedef {import("./drill.js").DrillCode} DrillCode
 * @typedef {import("./drill.js").DrillFamily} DrillFamily
 * @typedef {import("./drill.js").Seeded} Seeded
 */

const FEWEST_SUSPECTS = 3;
const MOST_SUSPECTS = 5;

/** @param {DrillNotes} notes @returns {DrillCode[]} with enough suspects to order */
export const toOrder = (notes) =>
  notes.codes.filter(({ suspects }) => suspects.length >= FEWEST_SUSPECTS);

/** @param {DrillCode} code @param {DrillNotes} _ @param {Seeded} draw
 * @returns {Drill} in which order would you check? */
export function orderOfChecks(code, _, draw) {
  const first = code.suspects.slice(0, MOST_SUSPECTS);
  return drillOf({
    kind: "order", form: "order", family: code.family, about: `codes/${code.id}`,
    ask: statement("drill.ask-order", { code: code.name }),
    ...mixedUp(first.map(({ name, share, minutes }) =>
      statement("drill.suspect", { what: name, part_share: share, minutes })), draw),
    because: [statement("drill.because-order")],
  });
}

/** @param {DrillNotes} notes @returns {DrillFamily[]} each says how it is made safe */
export const toMakeSafe = (notes) => notes.families;

/** @param {DrillFamily} family @param {DrillNotes} notes @param {Seeded} draw
 * @returns {Drill} in which order is it made safe, where is it isolated, how long is the wait? */
export function whatIsSafeFirst(family, notes, draw) {
  const others = notes.families.filter(({ id }) => id !== family.id);
  const ways = ["steps"];
  const places = others.map(({ isolateAt }) => isolateAt);
  if (differentWords(family.isolateAt, places)) ways.push("isolate");
  const waits = others.filter(({ noCharge }) => !noCharge).map(minutes);
  if (!family.noCharge && differentWords(minutes(family), waits)) ways.push("wait");
  const way = draw.chosen(ways);
  const common = {
    kind: "safe", family: family.id, about: `families/${family.id}`,
    ask: statement(`drill.ask-${way}`, { family: family.name }), because: madeSafe(family),
  };
  if (way === "steps") return drillOf({ ...common, form: "order", ...mixedUp(stepsOf(family), draw) });
  return drillOf({
    ...common, form: "choice",
    ...(way === "isolate" ? choicesOf(family.isolateAt, places, draw)
      : choicesOf(minutes(family), waits, draw)),
  });
}

/** @param {import("./statement.js").Statement[]} ordered @param {Seeded} draw
 * @returns them to be put in order again, and that order */
function mixedUp(ordered, draw) {
  const shuffled = draw.shuffled(ordered.map((_, place) => place));
  return {
    choices: shuffled.map((place) => ordered[place]),
    right: ordered.map((_, place) => shuffled.indexOf(place)),
  };
}

/** @param {DrillFamily} family @returns {string} */
const minutes = ({ drainMin }) => String(Number(drainMin.toPrecision(6)));

/** The first three of five safety rules (DIN VDE 0105-100, from memory), the charge, the work.
 * @param {DrillFamily} family */
function stepsOf(family) {
  return [
    statement("drill.step-isolate", { isolate_at: family.isolateAt }),
    statement("drill.step-lock"),
    statement("drill.step-dead"),
    ...(family.noCharge ? [] : [statement("drill.step-wait", { minutes: family.drainMin })]),
    statement("drill.step-measure", { volts: family.drainedBelowV, drain_at: family.drainAt }),
    statement("drill.step-work"),
  ];
}

/** @param {DrillFamily} family */
function madeSafe(family) {
  const figures = {
    isolate_at: unstopped(family.isolateAt), volts: family.drainedBelowV, drain_at: unstopped(family.drainAt),
  };
  return [family.noCharge
    ? statement("drill.because-no-charge", { ...figures, no_charge: unstopped(family.noCharge) })
    : statement("drill.because-safe", { ...figures, minutes: family.drainMin })];
}
