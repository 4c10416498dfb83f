// Says on every page which release this is, whether it is whole on this phone, how old it is, and what is new.

import { remember, remembered } from "../look.js";
import { button, el, link } from "../page/element.js";
import { copy } from "./install.js";
import { keptRelease } from "./kept-release.js";

const DAY_MS = 24 * 60 * 60 * 1000;

function statusLine(release) {
  const SEEN = `ohm.seen ${keptRelease.scope}`;
  const changes = `${keptRelease.scope}changes.html`;
  const state = copy.state;
  const news = document.querySelector("[data-ohm-news]");
  const line = document.querySelector("[data-ohm-status-line]");
  let asking = false;

  const TROUBLE = {
    full: "There is no room on this phone for the new notes. The ones you have stay.",
    damaged: "What the host sent was damaged. Nothing was changed; the next check tries again.",
    missing: "Something was missing at the host. Nothing was changed; the next check tries again.",
    slow: "The host was too slow. What came is kept; the next check goes on from there.",
    host: "The host cannot be reached. What came is kept; the next check goes on from there.",
  };

  function called(one) { return `release ${one.number}${one.date ? ` of ${one.date}` : ""}`; }
  function counted(n, noun) { return `${n} ${noun}${n === 1 ? "" : "s"}`; }

  /** Days since this copy was last known to be the newest: by its own date, or by a check. */
  function ageDays() {
    const known = Math.max(release.date ? Date.parse(release.date) : 0, state.confirmed);
    return known ? Math.floor((Date.now() - known) / DAY_MS) : 0;
  }

  function checkedWords() {
    if (!state.checked) return "";
    const minutes = Math.round((Date.now() - state.checked) / 60000);
    if (minutes < 1) return "Checked just now.";
    if (minutes < 90) return `Checked ${counted(minutes, "minute")} ago.`;
    if (minutes < 36 * 60) return `Checked ${counted(Math.round(minutes / 60), "hour")} ago.`;
    return `Checked ${counted(Math.round(minutes / 1440), "day")} ago.`;
  }

  function whereWords() {
    if (state.cannot === "folder") return "Read from a folder: whole as it is.";
    if (state.cannot === "serving") return "Shown while the notes are written; nothing is kept.";
    if (state.cannot) return "This browser cannot keep it: a signal is needed.";
    if (state.freed) return "Read from the host for now; nothing is kept on this phone.";
    if (state.getting) return `Saving on this phone: ${state.getting.done} of ${state.getting.of}.`;
    if (!state.whole) return "Not on this phone yet.";
    if (state.whole.have < state.whole.of) return `${state.whole.have} of ${state.whole.of} on this phone.`;
    return "Complete on this phone.";
  }

  function lastingWords() {
    if (!state.whole || state.lasting === null) return "";
    return state.lasting ? "Stored for good."
      : "The browser may clear it when space runs out: put it on the home screen.";
  }

  function sayLine() {
    const short = document.querySelector("[data-ohm-release]");
    const whole = state.whole && state.whole.have === state.whole.of;
    short.textContent = `Release ${release.number}${whole ? ", complete on this phone" : release.date ? `, ${release.date}` : ""}`;
    const words = [`R${called(release).slice(1)} (${release.name}).`, whereWords(), checkedWords(), lastingWords()];
    if (state.hostOlder) words.push("The host has an older one; this phone keeps its own.");
    line.textContent = words.filter(Boolean).join(" ");
    document.querySelector("[data-ohm-check]").hidden = Boolean(state.cannot);
  }

  function seen() {
    try { return JSON.parse(remembered(SEEN)); } catch (broken) { return null; }
  }
  function see() { remember(SEEN, JSON.stringify({ name: release.name, number: release.number })); }

  /** What changed between a copy and another, in a few words. @param {object} to @param {object} from */
  function difference(to, from) {
    const told = to.since && to.since[from.name];
    if (told) {
      return (told.changes ? counted(told.changes, "change") : "the notes say the same") +
        (told.safety ? `, ${told.safety} about safety` : "");
    }
    return to.number === from.number ? "the notes say the same" : "many changes";
  }

  function item(kind, words, others) { return el("p", `ohm-news-${kind}`, el("span", null, words), ...others); }

  function checkNow() {
    asking = true;
    copy.check(true).then(say, say);
  }

  function items() {
    const told = [];
    const age = ageDays();
    const before = seen();
    if (age > release.stale_after_days) {
      told.push(item("old", `⚠ This copy is old: it was last known to be the newest ${counted(age, "day")}` +
        " ago. Ask before you rely on it.", state.cannot ? [] : [button("Check now", checkNow)]));
    }
    if (state.ready) {
      told.push(item("ready", `New notes ready: ${difference(state.ready, release)}.`, [
        button("Use now", () => { copy.use(); }),
      ]));
    }
    if (before && before.name !== release.name) {
      const known = release.since && release.since[before.name];
      told.push(item("changed", `Now ${called(release)}. Since your last copy: ${difference(release, before)}.`, [
        link("See what changed", changes + (known ? `#since-${before.name}` : "")),
        button("Close", () => { see(); say(); }),
      ]));
    }
    if (state.wanted) {
      told.push(item("want", "These notes can be kept on this phone for places without a signal.", [button("Keep them", checkNow)]));
    }
    // Having no signal is an ordinary day: only somebody who asked is told.
    if (state.trouble && (asking || state.trouble === "full" || (state.trouble !== "host" && !state.whole))) {
      told.push(item("trouble", TROUBLE[state.trouble] || TROUBLE.host, []));
    }
    return told;
  }

  function say() {
    sayLine();
    const told = items();
    news.hidden = !told.length;
    // A screen reader speaks what changes here: the same words are not said twice.
    if (news.textContent !== told.map((one) => one.textContent).join("")) news.replaceChildren(...told);
  }

  /** On the page What changed, the part since this phone's own last copy stands open. */
  function openOwnPart() {
    const before = seen();
    const part = location.hash ? document.getElementById(location.hash.slice(1))
      : before && document.getElementById(`since-${before.name}`);
    if (part && part.tagName === "DETAILS") part.open = true;
    if (part) part.scrollIntoView();
    see();
  }

  document.querySelector("[data-ohm-check]").addEventListener("click", checkNow);
  document.addEventListener("ohm:copy", say);
  if (!seen()) see();
  if (location.href.split("#")[0] === changes) openOwnPart();
  say();
}

const release = globalThis.Ohm.release;
if (release) statusLine(release);
