// The end of a practice job: safe, found, how long; the best order beside theirs; what each reading told.

import { bestOrder } from "../answers/practice-safety.js";
import { button, el, heading, link, scrolling } from "../page/element.js";
import { verdictBadge } from "../page/verdict-box.js";
import { inWords } from "../words/phrase.js";
import { MOST_SEED } from "../numbers/seeded.js";
import { codeOf, isRight } from "./practice-job.js";
import { addPractised } from "./practised.js";
import {
  chargeWords, machineWords, suspectWords, truthWords, verdictWords,
} from "./practice-words.js";

/** @typedef {import("./practice-job.js").Job} Job */

/** @param {Job} job @param {{root: string, again: function(number): void}} how
 * @returns {HTMLElement} */
export function resultOf(job, { root, again }) {
  const { hidden } = job;
  const right = job.over === "found" && !job.wrong;
  addPractised({
    time: new Date().toISOString(), kind: "machine", family: job.machine.id,
    about: `codes/${codeOf(job).id}`, seed: hidden.seed, place: 0, right, minutes: job.minutes,
  });
  const title = el("h2", null, inWords(`practice.over-${job.over}`));
  title.tabIndex = -1;
  return el("div", "ohm-practice-result", title,
    safety(job),
    el("h3", null, inWords("practice.the-fault")),
    el("p", null, truthWords(job)),
    el("p", null, guessed(job)),
    orders(job),
    shouldHaveTold(job),
    el("p", "ohm-learn-ways",
      link(inWords("practice.code-page"), root + machineWords(job).codes[codeOf(job).id].href)),
    el("div", "ohm-practice-ends",
      button(inWords("practice.another"), () => again(Math.floor(Math.random() * (MOST_SEED + 1))),
        "ohm-practice-main"),
      button(inWords("practice.same-again"), () => again(hidden.seed), "ohm-practice-quiet")));
}

/** @param {Job} job @returns {HTMLElement} safety stands first, whatever was found */
function safety(job) {
  const words = machineWords(job);
  if (job.over !== "unsafe") {
    const touched = job.lines.some(({ act }) => act === "prove");
    return el("p", "ohm-practice-safe", inWords(touched ? "practice.was-safe" : "practice.untouched"));
  }
  const { chargeV } = job.machine;
  const why = job.missed === "prove" && chargeV > 0 ? "charge" : job.missed;
  return el("div", "ohm-caution", el("p", "ohm-caution-first", inWords(`practice.harm-${why}`, {
    volts: words.volts, charge: chargeWords(chargeV), where: words.isolateAt, at: words.drainAt,
    below: chargeWords(job.machine.drainedV), wait: job.machine.waitMin,
  })));
}

/** @param {Job} job */
function guessed(job) {
  if (job.over === "unsafe") return inWords("practice.guess-none");
  if (job.over === "shown") return inWords("practice.guess-shown");
  if (job.wrong) return inWords("practice.guess-late", { wrong: job.wrong });
  const kindRight = !job.kind || job.kind === job.hidden.kind;
  return inWords(isRight(job) && kindRight ? "practice.guess-right" : "practice.guess-near");
}

/** @param {Job} job @returns {HTMLElement} the checks as they were made, and the best order beside them */
function orders(job) {
  const code = codeOf(job);
  const best = bestOrder(code, { suspect: job.hidden.suspect });
  /** @type {number[]} */
  const theirs = [];
  job.lines.forEach(({ suspect, seen }) => {
    if (seen && suspect >= 0 && theirs.indexOf(suspect) < 0) theirs.push(suspect);
  });
  const rows = best.minutes.map((minutes, i) => el("tr", null, heading("row", String(i + 1)),
    el("td", null, i < theirs.length ? suspectWords(job, theirs[i]).name : ""),
    bestCell(job, i, minutes)));
  const spent = job.lines.filter(({ suspect, seen }) => seen && suspect >= 0)
    .reduce((sum, { minutes }) => sum + minutes, 0);
  const table = el("table", null,
    el("thead", null, el("tr", null, heading("col", inWords("practice.place")),
      heading("col", inWords("practice.yours")),
      heading("col", inWords("practice.best")))), el("tbody", null, ...rows));
  return el("section", null, el("h3", null, inWords("practice.orders")),
    el("p", null, inWords("practice.compared",
      { spent, all: job.minutes, best: best.foundMin, expected: Math.round(best.expectedMin) })),
    scrolling(inWords("practice.orders"), table),
    el("p", "ohm-hint", inWords("practice.best-why")));
}

/** @param {Job} job @param {number} suspect @param {number} minutes all up to and with it */
function bestCell(job, suspect, minutes) {
  const hit = suspect === job.hidden.suspect;
  const cell = el("td", null, suspectWords(job, suspect).name, " ",
    el("span", "ohm-practice-cost", inWords("practice.until", { minutes })));
  if (hit) cell.append(" ", el("strong", null, inWords("practice.here")));
  return cell;
}

/** @param {Job} job @returns {?HTMLElement} what each reading should have told */
function shouldHaveTold(job) {
  /** @type {HTMLElement[]} */
  const rows = [];
  job.lines.forEach(({ seen, words }) => {
    const verdict = seen && verdictWords(job, seen);
    if (!verdict) return;
    rows.push(el("li", null, el("p", null, words), verdict.state ? verdictBadge(verdict.state) : "",
      ` ${verdict.words}`));
  });
  return rows.length ? el("section", null, el("h3", null, inWords("practice.told")),
    el("ul", "ohm-practice-told", ...rows)) : null;
}
