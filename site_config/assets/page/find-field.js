// Find on the page: one field, a list of hits below it, by thumb and by key.

import { matchText, openText } from "../find/full-text.js";
import { matchItems, openIndex } from "../find/matching.js";
import { statement } from "../answers/statement.js";
import { nameOf, sentence } from "../words/phrase.js";
import { bringScript, el, part } from "./element.js";

const MOST = 24;
const MOST_OF_A_KIND = 8;

/** @typedef {import("../find/matching.js").Item} Item */

/** @param {HTMLFormElement} form @param {import("../find/matching.js").IndexRaw} index */
function findField(form, index) {
  const field = /** @type {HTMLInputElement} */ (part(form, ".ohm-find-field"));
  const clear = part(form, ".ohm-find-clear");
  const panel = part(form, ".ohm-find-panel");
  const list = part(form, ".ohm-find-list");
  const none = part(form, ".ohm-find-none");
  const says = part(form, "[data-ohm-find-says]");
  // Opened when the field is first touched: most pages are read without it.
  /** @type {?Item[]} */
  let items = null;
  /** @type {?import("../find/full-text.js").FullText} */
  let text = null;
  let asked = false;
  /** @type {HTMLElement[]} */
  let options = [];
  let at = -1;

  /** @returns {Item[]} */
  function ready() {
    bringText();
    items = items || openIndex(index);
    return items;
  }

  /** The full text comes as a script when it is first wanted: a page in a folder may not fetch. */
  function bringText() {
    if (asked) return;
    asked = true;
    const there = () => { if (globalThis.OhmFindText) text = openText(globalThis.OhmFindText); };
    there();
    if (text) return;
    bringScript(form.dataset.later || "", {
      load() {
        there();
        if (field.value.trim()) show();
      },
      // Without it the exact things still work; the next use tries again.
      fail() { asked = false; },
    });
  }

  /** @param {string} typed
   * @returns {Array<{name: string, items: Item[]}>} groups, the best hit's group first */
  function groups(typed) {
    const seen = new Set();
    const all = ready();
    /** @type {Map<string, Item[]>} */
    const found = new Map();
    const put = (/** @type {string} */ name, /** @type {Item} */ item) => {
      if (seen.has(item.number) || seen.size >= MOST) return;
      const group = found.get(name) || [];
      if (group.length >= MOST_OF_A_KIND) return;
      found.set(name, group);
      seen.add(item.number);
      group.push(item);
    };
    matchItems(typed, all, form.dataset.near || "").forEach((hit) => {
      put(nameOf("find-group", hit.near ? `near-${hit.near}` : hit.item.kind), hit.item);
    });
    if (text) {
      matchText(typed, text).forEach((hit) => { put(nameOf("find-group", "text"), all[hit.number]); });
    }
    return Array.from(found, ([name, group]) => ({ name, items: group }));
  }

  /** @param {Item} item */
  function option(item) {
    const choice = el("div", "ohm-find-hit",
      el("span", "ohm-find-title", item.title), el("span", "ohm-find-kind", item.kind),
      item.context ? el("span", "ohm-find-context", item.context) : null);
    choice.setAttribute("role", "option");
    choice.setAttribute("aria-selected", "false");
    choice.id = `ohm-find-${options.length}`;
    choice.dataset.url = item.url;
    options.push(choice);
    return choice;
  }

  function show() {
    const typed = field.value.trim();
    clear.hidden = !field.value;
    options = [];
    list.textContent = "";
    choose(-1);
    if (!typed) { close(); says.textContent = ""; return; }
    groups(typed).forEach((group, number) => {
      const name = el("span", "ohm-find-group", group.name);
      const box = el("div", null, name);
      name.id = `ohm-find-group-${number}`;
      name.setAttribute("role", "presentation");
      box.setAttribute("role", "group");
      box.setAttribute("aria-labelledby", name.id);
      group.items.forEach((item) => { box.append(option(item)); });
      list.append(box);
    });
    list.hidden = !options.length;
    none.hidden = options.length > 0 || !text;
    panel.hidden = list.hidden && none.hidden;
    list.scrollTop = 0;
    field.setAttribute("aria-expanded", String(options.length > 0));
    says.textContent = outcome();
  }

  /** @returns {string} for who does not see the list */
  function outcome() {
    if (!options.length) return text ? sentence(statement("find.nothing")) : "";
    const title = part(options[0], ".ohm-find-title").textContent;
    return sentence(statement("find.found", { count: options.length, title }));
  }

  function close() {
    panel.hidden = true;
    field.setAttribute("aria-expanded", "false");
    choose(-1);
  }

  /** @param {number} next the place of a hit, −1 for none */
  function choose(next) {
    if (options[at]) options[at].setAttribute("aria-selected", "false");
    at = next;
    const hit = options[at];
    if (!hit) { field.removeAttribute("aria-activedescendant"); return; }
    hit.setAttribute("aria-selected", "true");
    field.setAttribute("aria-activedescendant", hit.id);
    hit.scrollIntoView({ block: "nearest" });
  }

  /** @param {?HTMLElement} hit */
  function open(hit) {
    if (hit) location.href = `${form.dataset.root || ""}${hit.dataset.url || ""}`;
  }

  /** @param {KeyboardEvent} event */
  function pressed(event) {
    const last = options.length - 1;
    if (event.isComposing) return;
    if (event.key === "ArrowDown" && panel.hidden) { show(); event.preventDefault(); return; }
    if (event.key === "Escape") {
      if (panel.hidden) { field.value = ""; show(); } else close();
    } else if (event.key === "Enter") {
      open(options[Math.max(at, 0)]);
    } else if (panel.hidden || last < 0) {
      return;
    } else if (event.key === "ArrowDown") {
      choose(at === last ? 0 : at + 1);
    } else if (event.key === "ArrowUp") {
      choose(at <= 0 ? last : at - 1);
    } else {
      return;
    }
    event.preventDefault();
  }

  field.addEventListener("focus", () => {
    ready();
    if (field.value.trim() && panel.hidden) show();
  });
  field.addEventListener("input", () => { ready(); show(); });
  field.addEventListener("keydown", pressed);
  list.addEventListener("click", ({ target }) => {
    if (target instanceof Element) open(target.closest(".ohm-find-hit"));
  });
  // The field keeps its caret, and the phone its keypad, while a hit is being touched.
  list.addEventListener("mousedown", (event) => { event.preventDefault(); });
  clear.addEventListener("click", () => { field.value = ""; show(); field.focus(); });
  form.addEventListener("submit", (event) => { event.preventDefault(); });
  const ours = (/** @type {?EventTarget} */ target) => target instanceof Node && form.contains(target);
  document.addEventListener("click", ({ target }) => { if (!ours(target)) close(); });
  form.addEventListener("focusout", ({ relatedTarget }) => {
    if (relatedTarget && !ours(relatedTarget)) close();
  });
  // A page may have a key of its own that leads here.
  document.addEventListener("click", ({ target }) => {
    if (target instanceof Element && target.closest("[data-ohm-find]")) field.focus();
  });
  // A page brought back from behind shows the field as it was left, with nothing hanging over it.
  addEventListener("pageshow", close);
  if (field.value) clear.hidden = false;
}

/** @type {?HTMLFormElement} */
const form = document.querySelector(".ohm-find");
const index = globalThis.OhmFindIndex;
if (form && index) findField(form, index);
