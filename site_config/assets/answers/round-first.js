// What to do first after a round: one step out of all, and where. Mirrors kb/answers/round_first.py.

import { statement } from "./statement.js";

/**
 * @typedef {import("./statement.js").Statement} Statement
 * place: its key, nothing where it concerns several; title: why, in few words.
 * @typedef {{place: string, state: string, title: Statement, step: Statement}} RoundFirst
 */

/** Outcomes of a place, the one first that is to be seen to first. */
const URGENCY = [
  "stands-out", "stand-out", "faulty", "others-agree", "exchanged", "suspicious", "temperature",
  "split", "undecided", "one-read", "alone", "no-place", "agree",
];
/** Outcomes after which plugs that may be exchanged are looked at first. */
const LESS_THAN_EXCHANGED = ["undecided", "one-read", "alone", "no-place", "agree"];

/** Plugs that are surely exchanged may be all that is wrong.
 * @param {import("./round-outcome.js").PlaceAnswer[]} places
 * @param {{exchange: ?Statement, sure: boolean}} found
 * @returns {?RoundFirst} null where nothing was read */
export function roundFirst(places, { exchange, sure }) {
  const [first] = URGENCY.reduce((/** @type {typeof places} */ all, urgent) =>
    all.concat(places.filter(({ outcome, next }) => outcome === urgent && next.length)), []);
  if (exchange && (sure || !first || LESS_THAN_EXCHANGED.includes(first.outcome))) {
    return {
      place: "", state: "undecided", title: statement("round.title-exchange"), step: exchange,
    };
  }
  if (!first) return null;
  // Of its place alone: what rests elsewhere may not agree.
  const title = first.outcome === "others-agree"
    ? statement("round.title-faulty", first.title.figures) : first.title;
  return { place: first.place, state: first.state, title, step: first.next[0] };
}
