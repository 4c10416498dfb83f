// Home: the jobs that are open on this phone, whatever the family, and the pages opened last.

import { JOB_EVENT } from "../job/changed.js";
import { chooseJob, isOld, openJobs } from "../job/jobs.js";
import { statement } from "../answers/statement.js";
import { nameOf, phrase } from "../words/phrase.js";
import { clockTime } from "./clock.js";
import { el, link, part } from "./element.js";
import { markOf, newestShown } from "./job-naming.js";
import { lastOpened } from "./opened.js";

/** @typedef {import("../job/jobs.js").Job} Job */

/** More would push the families off the first screen; the job pages list them all. */
const MOST_JOBS = 4;

/** @param {HTMLElement} place @param {string} title @param {HTMLElement[]} rows */
function fill(place, title, rows) {
  place.hidden = !rows.length;
  if (!rows.length) {
    place.replaceChildren();
    return;
  }
  const heading = el("h2", null, title);
  heading.id = `home-${title.toLowerCase().replace(/\W+/g, "-")}`;
  place.setAttribute("aria-labelledby", heading.id);
  place.replaceChildren(heading, el("ul", "ohm-home-list", ...rows));
}

/** @param {HTMLElement} place */
function showJobs(place) {
  /** @type {Object<string, string>} */
  const families = JSON.parse(place.dataset.families || "{}");
  const jobs = openJobs().filter(({ family }) => family in families);
  const rows = jobs.slice(0, MOST_JOBS).map((job) => row(job, families[job.family]));
  if (jobs.length > rows.length) {
    const count = jobs.length - rows.length;
    rows.push(el("li", "ohm-hint", phrase(statement("bar.more", { count }))));
  }
  fill(place, nameOf("bar-label", "open-jobs"), rows);
}

/** @param {Job} job @param {string} family its name @returns {HTMLElement} its page, and it is chosen */
function row(job, family) {
  const shown = newestShown(job);
  const old = isOld(job);
  const way = link(markOf(job), `jobs/${job.family}.html`);
  way.addEventListener("click", () => {
    // One that was left alone is asked about there first.
    if (!old) chooseJob(job.id);
  });
  const figures = { family, shown, time: clockTime(old ? job.touched : job.opened) };
  const about = old ? "home-old" : shown ? "home-code" : "home";
  way.append(el("span", "ohm-note", phrase(statement(`bar.${about}`, figures))));
  return el("li", null, way);
}

/** @param {HTMLElement} place */
function showOpened(place) {
  fill(place, nameOf("bar-label", "last-opened"),
    lastOpened().map(({ title, url }) => el("li", null, link(title, url))));
}

const jobs = part(document, "[data-ohm-jobs]");
const showNow = () => {
  showJobs(jobs);
  showOpened(part(document, "[data-ohm-last-opened]"));
};
document.addEventListener(JOB_EVENT, showNow);
addEventListener("pageshow", showNow);
addEventListener("storage", showNow);
showNow();
