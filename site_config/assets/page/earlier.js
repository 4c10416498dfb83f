// What was read before of one thing in the open job: a line each, with a key that takes it out.

import { statement } from "../answers/statement.js";
import { liveJob } from "../job/jobs.js";
import { measurementsOf, removeMeasurement } from "../job/measurements.js";
import { capital, nameOf, phrase } from "../words/phrase.js";
import { clockTime } from "./clock.js";
import { button, el } from "./element.js";
import { unit } from "./unit.js";

/** @typedef {import("../job/jobs.js").Measurement} Measurement */
/**
 * Which readings, and how one is said without its time; but: those being typed now; removed: called then.
 * @typedef {{family: string, what?: string, of: string, line: function(Measurement): string,
 *   but?: Array<?number>, removed?: function(): void}} Wanted
 */

/**
 * Show them in a place, the newest first; call it again when the job changed. A key that takes one
 * out asks once, where it stands: what was measured does not come again by itself.
 * @param {HTMLElement} place empty and hidden where nothing was read
 * @param {Wanted} wanted
 */
export function showEarlier(place, { family, what, of, line, but = [], removed = () => {} }) {
  // What is typed next begins another job where this one is old: then these belong to that day's.
  const found = measurementsOf(liveJob(family), { what, of })
    .filter(({ id }) => !but.includes(id)).reverse();
  place.hidden = !found.length;
  if (!found.length) {
    place.replaceChildren();
    return;
  }
  const heading = el("p", "ohm-earlier-head", nameOf("earlier-key", "list"));
  const list = el("ul", null, ...found.map((read) => row(read, { line, family, removed })));
  list.setAttribute("aria-label", nameOf("earlier-key", "list"));
  place.replaceChildren(heading, list);
}

/** @param {Measurement} read
 * @param {{line: function(Measurement): string, family: string, removed: function(): void}} how */
function row(read, { line, family, removed }) {
  const when = clockTime(read.time);
  const words = phrase(
    statement(`earlier.${read.after ? "after" : "before"}`, { when, words: line(read) }),
    { unit: unit.now() });
  const keys = el("span", "ohm-earlier-keys");
  const remove = button(nameOf("earlier-key", "remove"), () => {
    const keep = button(nameOf("earlier-key", "keep"), () => {
      keys.replaceChildren(remove);
      remove.focus();
    });
    keys.replaceChildren(
      button(nameOf("earlier-key", "sure"), () => {
        removeMeasurement(family, read.id);
        removed();
      }), keep);
    keep.focus();
  });
  keys.append(remove);
  remove.setAttribute("aria-label", capital(phrase(statement("earlier.remove-it", { when }))));
  return el("li", null, el("span", null, words), keys);
}
