// Lists to tick off, such as every plug to put back. Ticks belong to the open job. A list is complete
// only when its owner says so, and that can be said only with nothing left; what is to be proved
// waits for what is to be put back.

import { statement } from "../answers/statement.js";
import { JOB_EVENT } from "../job/changed.js";
import { jobTicks, keepJobTicks } from "../job/job-ticks.js";
import { currentJob, isOld } from "../job/jobs.js";
import { capital, nameOf, phrase } from "../words/phrase.js";
import { button, el, parts } from "./element.js";
import { pageFamily } from "./page-family.js";
import { proofValues } from "./proof-values.js";

/** @typedef {import("../job/jobs.js").Ticks} Ticks */

/** @param {string} name @param {Object<string, any>} [figures] @returns {string} */
const words = (name, figures = {}) => capital(phrase(statement(`ticks.${name}`, figures)));

/** @param {HTMLElement} list */
function bring(list) {
  const name = list.dataset.list || "";
  const waitsFor = list.dataset.waitsFor || "";
  const done = list.dataset.done || "done";
  /** @type {NodeListOf<HTMLInputElement>} */
  const found = list.querySelectorAll("input[type=checkbox]");
  const boxes = Array.from(found);
  const count = el("p", "ohm-tick-state");
  const keys = el("p", "ohm-tick-keys");
  const finish = button(list.dataset.finish || words("complete"), complete, "ohm-key ohm-tick-finish");
  const clear = button(nameOf("ticks-key", "clear"), ask, "ohm-key");
  /** What "Clear ticks" took, until something else is ticked.
   * @type {?Ticks} */
  let cleared = null;
  /** What goes before the count, until something else happens. */
  let news = "";
  count.setAttribute("role", "status");
  count.tabIndex = -1;
  keys.append(finish, " ", clear);
  list.after(count, keys);

  const family = () => (pageFamily() || { id: "" }).id;
  const kept = () => jobTicks(family(), name);
  const ticked = () => boxes.filter((box) => box.checked).map((box) => box.dataset.tick || "");
  const waits = () => waitsFor !== "" && !jobTicks(family(), waitsFor).complete;

  /** Show what the open job knows: it may be another one than a moment ago. */
  function show() {
    const { ticked: before, complete: whole } = kept();
    const waiting = waits();
    const job = currentJob(family());
    // Nobody knows yet whether it is the same machine: the bar asks.
    const asks = job !== null && isOld(job);
    const left = boxes.length - before.length;
    boxes.forEach((box) => {
      box.checked = before.includes(box.dataset.tick || "");
      box.disabled = waiting && !box.checked;
    });
    const figures = { count: before.length, of: boxes.length, left, done };
    count.textContent = [asks ? words("old") : news, waiting ? words("waits") : "",
      words(whole && !waiting ? "whole" : left ? "left" : "all", figures)].filter(Boolean).join(" ");
    count.dataset.complete = String(whole && !waiting);
    finish.disabled = left > 0 || waiting;
    finish.hidden = whole && !waiting;
    clear.hidden = before.length === 0;
  }

  /** @param {Ticks} ticks @param {string} [says] */
  function put(ticks, says = "") {
    news = says;
    keepJobTicks(family(), name, ticks);
    show();
  }

  function changed() {
    const job = currentJob(family());
    if (job && isOld(job)) {
      show();
      return;
    }
    cleared = null;
    restKeys();
    put({ ticked: ticked(), complete: false }, kept().complete ? words("open-again") : "");
  }

  function complete() {
    if (kept().ticked.length < boxes.length || waits()) return;
    put({ ticked: ticked(), complete: true });
    count.focus();
  }

  function restKeys() {
    keys.replaceChildren(finish, " ", clear);
    if (!cleared) return;
    const taken = cleared;
    keys.append(" ", button(nameOf("ticks-key", "undo"), () => {
      cleared = null;
      put(taken);
      restKeys();
      count.focus();
    }, "ohm-key"));
  }

  /** Ticks are work: they go only when asked for twice, and come back by one key. */
  function ask() {
    const { ticked: before, complete: whole } = kept();
    const keep = button(nameOf("ticks-key", "keep"), () => {
      restKeys();
      clear.focus();
    }, "ohm-key");
    const sure = button(nameOf("ticks-key", "sure"), () => {
      cleared = { ticked: before, complete: whole };
      put({ ticked: [], complete: false });
      restKeys();
      count.focus();
    }, "ohm-key");
    const question = words(whole ? "sure-whole" : "sure", { count: before.length, done });
    keys.replaceChildren(el("span", "ohm-tick-sure", question), " ", sure, " ", keep);
    keep.focus();
  }

  list.addEventListener("change", ({ target }) => {
    if (target instanceof HTMLInputElement && target.type === "checkbox") changed();
  });
  document.addEventListener(JOB_EVENT, show);
  if (name.endsWith("-prove")) proofValues(list, name.slice(0, -"-prove".length), family);
  show();
}

parts(document, ".ohm-tick[data-list]").forEach(bring);
