// How far somebody is, and a sheet for the one who signs: from what this phone keeps, and no further.

import { DRILL_KINDS } from "../answers/drill.js";
import { button, el, heading, scrolling } from "../page/element.js";
import { inWords, nameOf } from "../words/phrase.js";
import { dayText } from "./boxes.js";
import { boxKey, dueToday, forgetPractice, practice } from "./practised.js";

/** Of so many newest answers it is said how many were right. */
const LAST = 10;
/** More names than these are a mix. */
const MOST_NAMED = 2;

/** @typedef {import("./practised.js").Practised} Practised */

/** @param {string} kind @returns {string} */
export const kindName = (kind) =>
  nameOf("drill-kind", DRILL_KINDS.includes(kind) ? kind : "machine");

/** @param {string} caption @param {string[]} heads @param {string[][]} rows */
function table(caption, heads, rows) {
  const made = el("table", "ohm-table", el("caption", null, caption),
    el("thead", null, el("tr", null, ...heads.map((words) => heading("col", words)))),
    el("tbody", null, ...rows.map(([first, ...cells]) =>
      el("tr", null, heading("row", first), ...cells.map((words) => el("td", null, words))))));
  return scrolling(caption, made);
}

/** @param {Practised[]} done @param {function(Practised): string} by @param {string[]} due boxes
 * @returns {string[][]} a row for each: practised, right of the last, due today */
function counted(done, by, due) {
  /** @type {Map<string, Practised[]>} */
  const groups = new Map();
  done.forEach((row) => { groups.set(by(row), [...(groups.get(by(row)) || []), row]); });
  return Array.from(groups.keys()).sort().map((name) => {
    const rows = groups.get(name) || [];
    const last = rows.slice(-LAST);
    const boxes = new Set(rows.map(boxKey));
    return [name, String(rows.length),
      inWords("drills.right-of", { right: last.filter(({ right }) => right).length, count: last.length }),
      String(due.filter((key) => boxes.has(key)).length)];
  });
}

/** @param {Object<string, string>} families @param {function(): void} again
 * @returns {HTMLElement[]} */
export function progressOf(families, again) {
  const { done } = practice();
  if (!done.length) return [el("p", null, inWords("drills.nothing-yet"))];
  const due = dueToday();
  const heads = ["practised", "right-last", "due"].map((name) => nameOf("drills-table", name));
  const [byKind, byFamily] = ["by-kind", "by-family"].map((name) => nameOf("drills-table", name));
  const forget = button(inWords("drills.forget"), () => {
    if (forget.dataset.sure) {
      forgetPractice();
      again();
      return;
    }
    forget.dataset.sure = "yes";
    forget.textContent = inWords("drills.forget-sure");
  });
  return [
    table(byKind, [nameOf("drills-table", "kind"), ...heads],
      counted(done, ({ kind }) => kindName(kind), due)),
    table(byFamily, [nameOf("drills-table", "family"), ...heads],
      counted(done, ({ family }) => families[family] || inWords("drills.no-family"), due)),
    el("p", "ohm-hint", inWords("drills.boxes")),
    el("div", "ohm-keys", forget),
  ];
}

/** @param {Object<string, string>} families @param {{team: string, release: string}} of
 * @returns {HTMLElement[]} */
export function sheetOf(families, { team, release }) {
  const { done } = practice();
  if (!done.length) return [el("p", null, inWords("drills.nothing-yet"))];
  /** @type {Map<string, Practised[]>} */
  const sets = new Map();
  done.forEach((row) => {
    const key = `${dayText(new Date(row.time))} ${String(row.seed).padStart(5, "0")}`;
    sets.set(key, [...(sets.get(key) || []), row]);
  });
  /** @param {Practised[]} rows @param {function(Practised): string} by @param {string} all */
  const named = (rows, by, all) => {
    const names = Array.from(new Set(rows.map(by))).filter(Boolean);
    return names.length > MOST_NAMED ? all : names.join(", ");
  };
  const rows = Array.from(sets.keys()).sort().map((key) => {
    const set = sets.get(key) || [];
    return [key.slice(0, 10), set[0].seed ? String(set[0].seed) : inWords("drills.repeats"),
      named(set, ({ kind }) => kindName(kind), inWords("drills.all-kinds")),
      named(set, ({ family }) => families[family] || "", inWords("drills.several")),
      inWords("drills.right-of", { right: set.filter(({ right }) => right).length, count: set.length })];
  });
  const who = el("input");
  who.id = "drill-who";
  const label = el("label", null, inWords("drills.who"));
  label.htmlFor = who.id;
  const line = (/** @type {string} */ words) => el("p", "ohm-sign-here", el("span", null, words));
  return [
    el("p", null, inWords("drills.sheet-of", { team, release })),
    el("p", "ohm-permission", el("strong", null, inWords("drills.no-permission"))),
    el("div", "ohm-field", label, who),
    table(inWords("drills.sheet"), ["date", "set", "kind", "family", "right"].map((name) =>
      nameOf("drills-table", name)), rows),
    line(inWords("drills.sign-starter")), line(inWords("drills.sign-other")),
    el("div", "ohm-keys", button(inWords("drills.print"), () => window.print(), "ohm-primary")),
  ];
}
