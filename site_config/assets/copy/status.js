// Says on every page which release this is, whether it is whole on this phone, how old it is, and
// what is new.

import { remember, remembered } from "../look.js";
import { button, el, link, part } from "../page/element.js";
import { ageDays, dayOf } from "./copy-age.js";
import { copy } from "./install.js";
import { keptRelease } from "./kept-release.js";

const DAY_MINUTES = 24 * 60;
/** Why a download or a check stopped → what to tell of it.
 * @type {Object<string, string>} */
const TROUBLE = {
  full: "There is no room on this phone for the new notes. The ones you have stay.",
  damaged: "What the host sent was damaged. Nothing was changed; the next check tries again.",
  missing: "Something was missing at the host. Nothing was changed; the next check tries again.",
  slow: "The host was too slow. What came is kept; the next check goes on from there.",
  host: "The host cannot be reached. What came is kept; the next check goes on from there.",
};

/** @param {{number: number, date: string}} release */
function called({ number, date }) { return `release ${number}` + (date ? ` of ${date}` : ""); }

/** @param {number} n @param {string} noun */
function counted(n, noun) { return `${n} ${noun}${n === 1 ? "" : "s"}`; }

/** What changed between a copy and another, in a few words.
 * @param {{number: number, since?: Release["since"]}} to
 * @param {{number: number, name: string}} from */
function difference(to, from) {
  const known = to.since && to.since[from.name];
  if (!known) return to.number === from.number ? "the notes say the same" : "many changes";
  return (known.changes ? counted(known.changes, "change") : "the notes say the same") +
    (known.safety ? `, ${known.safety} about safety` : "");
}

/** @param {string} kind @param {string} words @param {...HTMLElement} others */
function item(kind, words, ...others) {
  return el("p", `ohm-news-${kind}`, el("span", null, words), ...others);
}

/** @param {Release} release */
function statusLine(release) {
  const SEEN = `ohm.seen ${keptRelease.scope}`;
  const changes = `${keptRelease.scope}changes.html`;
  const { state } = copy;
  const news = part(document, "[data-ohm-news]");
  const line = part(document, "[data-ohm-status-line]");
  const short = part(document, "[data-ohm-release]");
  const checkKey = part(document, "[data-ohm-check]");
  let asking = false;

  /** When this copy was last known to be the newest: by its own date, or by a check. */
  function lastKnown() {
    return Math.max(release.date ? Date.parse(release.date) : 0, state.confirmed);
  }

  function checkedWords() {
    if (!state.checked) return "";
    const minutes = Math.round((Date.now() - state.checked) / 60000);
    if (minutes < 0) return "";
    if (minutes < 1) return "Checked just now.";
    if (minutes < 90) return `Checked ${counted(minutes, "minute")} ago.`;
    if (minutes < 1.5 * DAY_MINUTES) return `Checked ${counted(Math.round(minutes / 60), "hour")} ago.`;
    return `Checked ${counted(Math.round(minutes / DAY_MINUTES), "day")} ago.`;
  }

  function whereWords() {
    if (state.cannot === "folder") return "Read from a folder: whole as it is.";
    if (state.cannot === "serving") return "Shown while the notes are written; nothing is kept.";
    if (state.cannot) return "This browser cannot keep it: a signal is needed.";
    if (state.freed) return "Read from the host for now; nothing is kept on this phone.";
    if (state.getting) return `Saving on this phone: ${state.getting.done} of ${state.getting.of}.`;
    if (!state.whole) return "Not on this phone yet.";
    const { have, of } = state.whole;
    return have < of ? `${have} of ${of} on this phone.` : "Complete on this phone.";
  }

  function lastingWords() {
    if (!state.whole || state.lasting === null) return "";
    return state.lasting ? "Stored for good."
      : "The browser may clear it when space runs out: put it on the home screen.";
  }

  function sayLine() {
    const whole = state.whole && state.whole.have === state.whole.of;
    const date = release.date ? `, ${release.date}` : "";
    short.textContent = `Release ${release.number}${whole ? ", complete on this phone" : date}`;
    const name = `R${called(release).slice(1)} (${release.name}).`;
    const words = [name, whereWords(), checkedWords(), lastingWords()];
    if (state.hostOlder) words.push("The host has an older one; this phone keeps its own.");
    line.textContent = words.filter(Boolean).join(" ");
    checkKey.hidden = Boolean(state.cannot);
  }

  /** @returns {?{name: string, number: number}} the release that was read here before */
  function seen() {
    try { return JSON.parse(remembered(SEEN) || "null"); } catch (broken) { return null; }
  }
  function see() { remember(SEEN, JSON.stringify({ name: release.name, number: release.number })); }

  function checkNow() {
    asking = true;
    copy.check(true).then(say, say);
  }

  /** @returns {HTMLElement[]} */
  function items() {
    /** @type {HTMLElement[]} */
    const shown = [];
    [oldItem(), readyItem(), changedItem(), wantedItem(), troubleItem()]
      .forEach((message) => { if (message) shown.push(message); });
    return shown;
  }

  function oldItem() {
    // What is shown while the notes are written is no copy, whatever day they give themselves.
    if (state.cannot === "serving") return null;
    const days = ageDays(lastKnown(), Date.now());
    if (days !== null && days <= release.stale_after_days) return null;
    const words = days === null
      ? `⚠ How old this copy is cannot be told: this phone's clock says ${dayOf(Date.now())}, and ` +
        `it was last known to be the newest on ${dayOf(lastKnown())}. Set the clock, and ask before ` +
        "you rely on it."
      : "⚠ This copy is old: it was last known to be the newest " +
        `${counted(days, "day")} ago. Ask before you rely on it.`;
    return item("old", words, ...(state.cannot ? [] : [button("Check now", checkNow)]));
  }

  function readyItem() {
    if (!state.ready) return null;
    return item("ready", `New notes ready: ${difference(state.ready, release)}.`,
      button("Use now", () => { copy.use(); }));
  }

  function changedItem() {
    const before = seen();
    if (!before || before.name === release.name) return null;
    const known = release.since && release.since[before.name];
    const close = () => {
      see();
      say();
    };
    return item("changed",
      `Now ${called(release)}. Since your last copy: ${difference(release, before)}.`,
      link("See what changed", changes + (known ? `#since-${before.name}` : "")),
      button("Close", close));
  }

  function wantedItem() {
    if (!state.wanted) return null;
    return item("want", "These notes can be kept on this phone for places without a signal.",
      button("Keep them", checkNow));
  }

  /** Having no signal is an ordinary day: only somebody who asked is told. */
  function troubleItem() {
    const { trouble, whole } = state;
    const wanted = asking || trouble === "full" || (trouble !== "host" && !whole);
    return trouble && wanted ? item("trouble", TROUBLE[trouble] || TROUBLE.host) : null;
  }

  function say() {
    sayLine();
    const shown = items();
    news.hidden = !shown.length;
    // A screen reader speaks what changes here: the same words are not said twice.
    const words = shown.map(({ textContent }) => textContent).join("");
    if (news.textContent !== words) news.replaceChildren(...shown);
  }

  /** On the page What changed, the part since this phone's own last copy stands open. */
  function openOwnPart() {
    const before = seen();
    const id = location.hash ? location.hash.slice(1) : before ? `since-${before.name}` : "";
    const changed = document.getElementById(id);
    if (changed instanceof HTMLDetailsElement) changed.open = true;
    if (changed) changed.scrollIntoView();
    see();
  }

  checkKey.addEventListener("click", checkNow);
  document.addEventListener("ohm:copy", say);
  if (!seen()) see();
  if (location.href.split("#")[0] === changes) openOwnPart();
  say();
}

const release = globalThis.Ohm.release;
if (release) statusLine(release);
