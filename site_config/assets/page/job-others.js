// Every job of this family on the phone, and what can be done with each: gone on with, cleared.

import { allJobs, chooseJob, closeJob, currentJob, forgetJob } from "../job/jobs.js";
import { forgetPhotosOf } from "../job/photos.js";
import { statement } from "../answers/statement.js";
import { nameOf, phrase } from "../words/phrase.js";
import { clockTime } from "./clock.js";
import { button, el } from "./element.js";
import { markOf, newestShown } from "./job-naming.js";
import { jobLine } from "./job-text.js";

/** @typedef {import("../job/jobs.js").Job} Job */

/** @param {HTMLElement} place @param {{familyId: string, says: function(string): void}} about */
export function showOthers(place, { familyId, says }) {
  const jobs = allJobs().filter(({ family }) => family === familyId);
  const current = currentJob(familyId);
  place.replaceChildren(...(jobs.length ? [
    el("h2", null, nameOf("job-others", "title")),
    el("ul", null, ...jobs.map((job) => row(job, current !== null && current.id === job.id, says))),
  ] : []));
}

/** @param {Job} job @param {boolean} chosen @param {function(string): void} says */
function row(job, chosen, says) {
  const state = job.closed ? "closed" : chosen ? "chosen" : "open";
  const about = phrase(statement(`job.other-${state}`, {
    mark: markOf(job), shown: newestShown(job) || nameOf("job-others", "no-code"),
    opened: clockTime(job.opened), closed: job.closed && clockTime(job.closed),
  }));
  const key = (/** @type {string} */ name, /** @type {function(): void} */ press) => {
    const made = button(nameOf("job-others", name), press, "ohm-key");
    made.setAttribute("aria-label", `${nameOf("job-others", name)}: ${markOf(job)}`);
    return made;
  };
  return el("li", null, el("p", null, about), el("p", "ohm-job-keys",
    chosen ? key("close", () => closeJob(job.id))
      : key(job.closed ? "reopen" : "choose", () => {
        chooseJob(job.id);
        scrollTo(0, 0);
      }), " ",
    key("clear", () => clear(job, says))));
}

/** Nothing of it stays on this phone, its photos not either.
 * @param {Job} job @param {function(string): void} says */
async function clear(job, says) {
  if (!confirm(jobLine("forget", { mark: markOf(job) }))) return;
  forgetJob(job.id);
  await forgetPhotosOf(job.id);
  says(jobLine("cleared"));
}
