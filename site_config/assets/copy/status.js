// Says on every page which release this is, whether it is whole on this phone, how old it is, and
// what is new.

import { remember, rememberedAs } from "../look.js";
import { button, el, link, part } from "../page/element.js";
import { numberOf, inWords } from "../words/phrase.js";
import { ageDays, dayOf } from "./copy-age.js";
import { copy } from "./install.js";
import { keptRelease } from "./kept-release.js";
import { signing } from "./signed.js";

const DAY_MINUTES = 24 * 60;
/** Why a download or a check stopped → what to tell of it.
 * @type {Object<string, string>} */
const TROUBLE = {
  full: inWords("copy.no-room"),
  damaged: inWords("copy.damaged"),
  missing: inWords("copy.missing"),
  other: inWords("copy.other"),
  slow: inWords("copy.slow"),
  host: inWords("copy.no-host"),
  unsigned: inWords("copy.unsigned"),
  forged: inWords("copy.forged"),
  foreign: inWords("copy.foreign"),
  unchecked: inWords("copy.not-checked"),
};
/** What concerns who publishes is said though nobody asked. */
const ALARMS = /^(unsigned|forged|foreign|unchecked)$/;

/** @param {{number: number, date: string}} release */
function called({ number, date }) { return inWords(`copy.release${date ? "-of" : ""}`, { number, date }); }

/** What changed between a copy and another, in a few words.
 * @param {{number: number, since?: Release["since"]}} to
 * @param {{number: number, name: string}} from */
function difference(to, from) {
  const known = to.since && to.since[from.name];
  if (!known) return to.number === from.number ? inWords("copy.same") : inWords("copy.many");
  const changes = known.changes ? numberOf("change", known.changes) : inWords("copy.same");
  return known.safety ? inWords("copy.safety", { changes, safety: known.safety }) : changes;
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
  let wrongMark = false;

  /** When this copy was last known to be the newest: by its own date, or by a check. */
  function lastKnown() {
    return Math.max(release.date ? Date.parse(release.date) : 0, state.confirmed);
  }

  function checkedWords() {
    if (!state.checked) return "";
    const minutes = Math.round((Date.now() - state.checked) / 60000);
    if (minutes < 0) return "";
    if (minutes < 1) return inWords("copy.just-now");
    if (minutes < 90) return numberOf("minute-ago", minutes);
    if (minutes < 1.5 * DAY_MINUTES) return numberOf("hour-ago", Math.round(minutes / 60));
    return numberOf("day-ago", Math.round(minutes / DAY_MINUTES));
  }

  function whereWords() {
    if (state.cannot === "folder") return inWords("copy.folder");
    if (state.cannot === "serving") return inWords("copy.serving");
    if (state.cannot) return inWords("copy.cannot");
    if (state.freed) return inWords("copy.freed");
    if (state.getting) return inWords("copy.getting", state.getting);
    if (!state.whole) return inWords("copy.none");
    const { have, of } = state.whole;
    return have < of ? inWords("copy.have", { have, of }) : inWords("copy.whole");
  }

  function lastingWords() {
    if (!state.whole || state.lasting === null) return "";
    return state.lasting ? inWords("copy.lasting") : inWords("copy.passing");
  }

  function sayLine() {
    const whole = state.whole && state.whole.have === state.whole.of;
    const { number, date, name } = release;
    const dated = date ? "-of" : "";
    short.textContent = inWords(`copy.short${whole ? "-whole" : dated}`, { number, date });
    const nameLine = inWords(`copy.name${dated}`, { number, date, name });
    const words = [nameLine, whereWords(), checkedWords(), lastingWords()];
    if (state.hostOlder) words.push(inWords("copy.host-older"));
    const mark = signing.mark();
    if (mark) words.push(inWords("copy.signed", { mark }));
    if (signing.unchecked) words.push(inWords("copy.unchecked"));
    if (state.hostNewer && !state.ready && !state.getting && !state.freed) {
      words.push(inWords("copy.host-newer"));
    }
    line.textContent = words.filter(Boolean).join(" ");
    checkKey.hidden = Boolean(state.cannot);
  }

  /** @returns {?{name: string, number: number}} the release that was read here before */
  function seen() { return rememberedAs(SEEN, { name: "", number: 0 }); }
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
      ? inWords("copy.no-age", { today: dayOf(Date.now()), known: dayOf(lastKnown()) })
      : numberOf("day-old", days);
    return item("old", words, ...(state.cannot ? [] : [button(inWords("copy.check"), checkNow)]));
  }

  function readyItem() {
    if (!state.ready) return null;
    return item("ready", inWords("copy.ready", { difference: difference(state.ready, release) }),
      button(inWords("copy.use"), () => { copy.use(); }));
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
      inWords("copy.now", { release: called(release), difference: difference(release, before) }),
      link(inWords("copy.see"), changes + (known ? `#since-${before.name}` : "")),
      button(inWords("copy.close"), close));
  }

  function wantedItem() {
    if (!state.wanted) return null;
    return item("want", inWords("copy.wanted"),
      button(inWords("copy.keep"), checkNow));
  }

  /** Having no signal is an ordinary day: only somebody who asked is told. */
  function troubleItem() {
    const { trouble, whole } = state;
    const wanted = asking || trouble === "full" || (trouble !== "host" && !whole) || ALARMS.test(trouble);
    if (!trouble || !wanted) return null;
    return item("trouble", TROUBLE[trouble] || TROUBLE.host, ...(trouble === "foreign" ? newKey() : []));
  }

  /** Where a new key's mark is typed, as the keeper reads it out: it is not shown, so nobody copies it. */
  function newKey() {
    const field = el("input");
    field.setAttribute("aria-label", inWords("copy.mark"));
    field.autocapitalize = "off";
    field.spellcheck = false;
    const take = button(inWords("copy.take"), () => {
      wrongMark = !signing.take(field.value);
      if (wrongMark) say();
      else checkNow();
    });
    return [...(wrongMark ? [el("span", null, inWords("copy.wrong-mark"))] : []), field, take];
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
