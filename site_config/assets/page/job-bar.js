// The bar under the header: which job is open on this page's machine, and the way to change it.

import { statement } from "../answers/statement.js";
import { JOB_EVENT } from "../job/changed.js";
import { addCode, currentJob, isOld } from "../job/jobs.js";
import { begunBeside } from "../job/joined.js";
import { store } from "../job/store.js";
import { capital, nameOf, phrase } from "../words/phrase.js";
import { clockTime } from "./clock.js";
import { button, el, link } from "./element.js";
import { markOf, newestShown } from "./job-naming.js";
import { fillPanel } from "./job-panel.js";
import { pageFamilies, pageFamily } from "./page-family.js";

/** @typedef {import("../job/jobs.js").Job} Job */

/** @param {string} name @param {Object<string, *>} [figures] @returns {string} */
const words = (name, figures = {}) => phrase(statement(`bar.${name}`, figures));

/** @param {?Job} job @returns {string} */
function barWords(job) {
  if (!job) return capital(words("none"));
  const mark = markOf(job);
  if (isOld(job)) return words("old", { mark, time: clockTime(job.touched) });
  const older = begunBeside(job);
  if (older) return capital(words("beside", { mark: markOf(older), time: clockTime(job.opened) }));
  const figures = { mark, shown: newestShown(job), time: clockTime(job.opened) };
  return words(figures.shown ? "open-code" : "open", figures);
}

/** @param {HTMLElement} bar */
function jobBar(bar) {
  const panel = el("div", "ohm-job-panel");
  panel.hidden = true;
  panel.id = "ohm-job-panel";
  panel.setAttribute("role", "region");
  panel.setAttribute("aria-label", nameOf("bar-label", "panel"));

  /** @param {string} says @returns {HTMLButtonElement} */
  function opener(says) {
    const key = button(says, () => { open(panel.hidden); }, "ohm-job-change");
    key.setAttribute("aria-controls", panel.id);
    key.setAttribute("aria-expanded", String(!panel.hidden));
    return key;
  }

  function show() {
    const family = pageFamily();
    const job = family && currentJob(family.id);
    const trouble = store.trouble();
    const says = trouble === "memory" || trouble === "full"
      ? capital(words("not-kept", { words: barWords(job) })) : barWords(job);
    const asks = job && (isOld(job) || begunBeside(job));
    const state = trouble ? "trouble" : !job ? "none" : asks ? "old" : "open";
    const sign = el("span", "ohm-job-sign", { trouble: "⚠", none: "○", old: "?", open: "●" }[state]);
    sign.setAttribute("aria-hidden", "true");
    const named = [sign, el("span", "ohm-job-name", says)];
    bar.dataset.state = state;
    if (!family || !job) {
      const key = opener("");
      key.classList.add("ohm-job-whole");
      key.append(...named);
      bar.replaceChildren(key, panel);
    } else {
      const way = link("", family.href);
      way.className = "ohm-job-way";
      way.append(...named);
      way.setAttribute("aria-label", capital(words("to-job", { words: says })));
      bar.replaceChildren(way, opener(nameOf("bar-key", state === "old" ? "decide" : "change")), panel);
    }
  }

  /** @param {boolean} wanted */
  function open(wanted) {
    panel.hidden = !wanted;
    if (wanted) fillPanel(panel, { close: () => { open(false); } });
    const key = bar.querySelector("[aria-controls]");
    if (key) key.setAttribute("aria-expanded", String(wanted));
  }

  const again = () => {
    show();
    // What is being typed into the panel stays.
    if (!panel.hidden && !panel.contains(document.activeElement)) open(true);
  };
  document.addEventListener(JOB_EVENT, again);
  // Another tab of this phone writes to the same jobs.
  addEventListener("storage", again);
  addEventListener("pageshow", () => { open(false); again(); });
  bar.addEventListener("keydown", ({ key }) => {
    if (key !== "Escape" || panel.hidden) return;
    open(false);
    const opens = bar.querySelector("[aria-controls]");
    if (opens instanceof HTMLElement) opens.focus();
  });
  document.addEventListener("click", ({ target }) => {
    // What was just pressed may be gone from the panel.
    if (target instanceof Node && target.isConnected && !bar.contains(target)) open(false);
  });
  show();
}

/** A way that leads on from a code tells the job which one: in a file of its own a link carries
 * nothing along, and a code that is only in an address is forgotten. */
function codesFollow() {
  document.addEventListener("click", ({ target }) => {
    const way = target instanceof Element ? target.closest("[data-ohm-code]") : null;
    const family = pageFamilies()[0];
    if (!(way instanceof HTMLElement) || !family) return;
    const sheet = way.closest("article") || document.querySelector("#ohm-main");
    const heading = sheet && sheet.querySelector("h1");
    const shown = way.dataset.ohmShown || ((heading && heading.textContent) || "").split(": ")[0];
    addCode(family.id, { code: way.dataset.ohmCode || "", shown: shown.trim() });
  }, true);
}

const bar = document.querySelector("[data-ohm-job-bar]");
if (bar instanceof HTMLElement && pageFamilies().length) {
  jobBar(bar);
  codesFollow();
}
