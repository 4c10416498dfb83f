// The panel of the bar: the open jobs of the page's families, and another machine.

import { statement } from "../answers/statement.js";
import {
  chooseJob, closeJob, currentJob, isOld, openJobs, startJob,
} from "../job/jobs.js";
import { begunBeside, joinOlder, keepApart } from "../job/joined.js";
import { store } from "../job/store.js";
import { capital, nameOf, phrase } from "../words/phrase.js";
import { clockTime } from "./clock.js";
import { button, el, link } from "./element.js";
import { markOf, newestShown } from "./job-naming.js";
import { pageFamilies, pageFamily } from "./page-family.js";

/** @typedef {import("../job/jobs.js").Job} Job */
/** @typedef {import("./page-family.js").PageFamily} PageFamily */

/** @param {string} name @param {Object<string, *>} [figures] @returns {string} */
const line = (name, figures = {}) => capital(phrase(statement(`bar.${name}`, figures)));

/** @param {string} name @param {function(): void} press @param {string} [more] a class */
const keyFor = (name, press, more = "") =>
  button(nameOf("bar-key", name), press, `ohm-key ${more}`.trim());

/** Everything on the page belongs to one machine: with another one, the page begins anew. What the
 * phone does not keep would be lost by that. */
function anew() {
  if (!["memory", "full"].includes(store.trouble())) location.reload();
}

/** @param {HTMLElement} panel @param {{close: function(): void}} then */
export function fillPanel(panel, { close }) {
  const family = pageFamily();
  if (!family) return;
  const current = currentJob(family.id);
  const trouble = store.trouble();
  const again = () => { fillPanel(panel, { close }); };
  panel.replaceChildren(
    ...(trouble ? [el("p", "ohm-job-trouble", line(trouble))] : []),
    ...asked(current, close),
    ...openRows(again),
    current ? keysOf(current, family, close) : beginning(family, { other: null, close }),
  );
}

/** @param {?Job} job the current one @param {function(): void} close
 * @returns {HTMLElement[]} whether it is the same machine as before, where nobody knows yet */
function asked(job, close) {
  if (!job) return [];
  if (isOld(job)) return [leftAlone(job, close)];
  const older = begunBeside(job);
  return older ? [begunByTyping(job, older, close)] : [];
}

/** @param {Job} job @param {Job} older that it was begun beside @param {function(): void} close
 * @returns {HTMLElement} put it there, or keep them apart */
function begunByTyping(job, older, close) {
  return el("div", "ohm-job-old",
    el("p", null, phrase(statement("bar.was-begun", {
      mark: markOf(older), time: clockTime(older.touched),
    }))),
    el("div", "ohm-job-keys",
      keyFor("join", async () => {
        await joinOlder(job);
        close();
        anew();
      }),
      keyFor("apart", () => {
        keepApart(job);
        close();
      })));
}

/** @param {Job} job @param {function(): void} close @returns {HTMLElement} go on, or close it */
function leftAlone(job, close) {
  return el("div", "ohm-job-old",
    el("p", null, phrase(statement("bar.was-left", {
      mark: markOf(job), time: clockTime(job.touched),
    }))),
    el("div", "ohm-job-keys",
      keyFor("go-on", () => {
        chooseJob(job.id);
        close();
      }),
      keyFor("close-old", () => {
        closeJob(job.id);
        anew();
      })));
}

/** @param {function(): void} again @returns {HTMLElement[]} what is open, family by family */
function openRows(again) {
  const open = openJobs();
  return pageFamilies().filter(({ id }) => open.some(({ family }) => family === id))
    .map(({ id, name }) => {
      const current = currentJob(id);
      const rows = open.filter(({ family }) => family === id).map((job) =>
        el("li", null, choice(job, current !== null && current.id === job.id, again)));
      return el("div", null,
        el("p", "ohm-job-of", line("here", { family: name })), el("ul", null, ...rows));
    });
}

/** @param {Job} job @param {boolean} chosen @param {function(): void} again */
function choice(job, chosen, again) {
  const shown = newestShown(job);
  const times = { shown, opened: clockTime(job.opened), touched: clockTime(job.touched) };
  const key = button("", () => {
    if (chosen) return;
    chooseJob(job.id);
    again();
    anew();
  }, "ohm-job-choice");
  const sign = el("span", "ohm-job-sign", chosen ? "●" : "○");
  sign.setAttribute("aria-hidden", "true");
  key.append(sign, el("span", null,
    el("strong", null, markOf(job)),
    job.mark && job.plate ? `, ${phrase(statement("bar.plate", job))}` : "",
    chosen ? ` (${nameOf("bar-key", "chosen")})` : "",
    el("span", "ohm-note", line(shown ? "row" : "row-no-code", times))));
  key.setAttribute("aria-pressed", String(chosen));
  return key;
}

/** @param {Job} job the chosen one @param {PageFamily} family @param {function(): void} close */
function keysOf(job, family, close) {
  const keys = el("div", "ohm-job-keys");
  const way = link(nameOf("bar-key", "job-page"), family.href);
  way.className = "ohm-key";
  way.addEventListener("click", close);
  keys.append(way, " ", keyFor("close", () => {
    closeJob(job.id);
    anew();
  }), " ", keyFor("another", () => {
    const begun = beginning(family, { other: job, close });
    keys.replaceWith(begun);
    const first = begun.querySelector("input");
    if (first) first.focus();
  }));
  return keys;
}

/** @param {string} name @param {string} [hint] @returns {[HTMLElement, HTMLInputElement]} */
function field(name, hint = "") {
  const input = el("input");
  input.id = `ohm-job-${name}`;
  input.type = "text";
  input.maxLength = 60;
  input.autocomplete = "off";
  const label = el("label", null, nameOf("bar-label", name));
  label.htmlFor = input.id;
  return [el("div", "ohm-field", label, input, hint ? el("p", "ohm-hint", hint) : null), input];
}

/** The beginning of a job; with another one open it says what becomes of that.
 * @param {PageFamily} first @param {{other: ?Job, close: function(): void}} about */
function beginning(first, { other, close }) {
  const form = el("form", "ohm-job-begin");
  const [markField, mark] = field("mark", nameOf("bar-label", "mark", "hint"));
  const [plateField, plate] = field("plate");
  const families = familyChoice(first);
  const start = (/** @type {boolean} */ closing) => {
    const was = other || currentJob(families.now());
    if (closing && other) closeJob(other.id);
    startJob(families.now(), { mark: mark.value.trim(), plate: plate.value.trim() });
    close();
    if (was) anew();
  };
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    start(false);
  });
  const begins = keyFor(other ? "start-beside" : "start", () => { /* sent with the form */ },
    "ohm-job-start");
  begins.type = "submit";
  form.append(
    ...(other ? [el("p", null, phrase(statement("bar.stays", { mark: markOf(other) })))] : []),
    ...(families.field ? [families.field] : []), markField, plateField,
    el("div", "ohm-job-keys", begins, " ",
      ...(other ? [keyFor("start-after", () => start(true)), " "] : []),
      keyFor("not-now", close)));
  return form;
}

/** @param {PageFamily} first
 * @returns {{field: ?HTMLElement, now: function(): string}} asked only where a page has several */
function familyChoice(first) {
  if (pageFamilies().length < 2) return { field: null, now: () => first.id };
  const select = el("select", null, ...pageFamilies().map(({ id, name }) => {
    const option = el("option", null, name);
    option.value = id;
    return option;
  }));
  const label = el("label", null, nameOf("bar-label", "family"));
  select.id = "ohm-job-family";
  select.value = first.id;
  label.htmlFor = select.id;
  return { field: el("div", "ohm-field", label, select), now: () => select.value };
}
