// Find on the page: one field, a list of hits below it, by thumb and by key.

import { matchText, openText } from "../find/full-text.js";
import { matchItems, openIndex } from "../find/matching.js";
import { statement } from "../answers/statement.js";
import { nameOf, sentence } from "../words/phrase.js";
import { bringScript, el } from "./element.js";

const MOST = 24;
const MOST_OF_A_KIND = 8;

function findField(form) {
  const field = form.querySelector(".ohm-find-field");
  const clear = form.querySelector(".ohm-find-clear");
  const panel = form.querySelector(".ohm-find-panel");
  const list = form.querySelector(".ohm-find-list");
  const none = form.querySelector(".ohm-find-none");
  const says = form.querySelector("[data-ohm-find-says]");
  // Opened when the field is first touched: most pages are read without it.
  let items = null;
  let text = null;
  let asked = false;
  let options = [];
  let at = -1;

  function ready() {
    items = items || openIndex(globalThis.OhmFindIndex);
    bringText();
  }

  /** The full text comes as a script when it is first wanted: a page in a folder may not fetch. */
  function bringText() {
    if (asked) return;
    asked = true;
    if (globalThis.OhmFindText) {
      text = openText(globalThis.OhmFindText);
      return;
    }
    bringScript(form.dataset.later, {
      load() {
        text = openText(globalThis.OhmFindText);
        if (field.value.trim()) show();
      },
      // Without it the exact things still work; the next use tries again.
      fail() { asked = false; },
    });
  }

  /** @returns {Array<{name: string, items: Array}>} groups, the best hit's group first */
  function groups(typed) {
    const seen = new Set();
    const found = new Map();
    let total = 0;
    function put(name, item) {
      if (seen.has(item.number) || total >= MOST) return;
      if (!found.has(name)) found.set(name, []);
      if (found.get(name).length >= MOST_OF_A_KIND) return;
      seen.add(item.number);
      found.get(name).push(item);
      total++;
    }
    matchItems(typed, items, form.dataset.near).forEach((hit) => {
      put(nameOf("find-group", hit.near ? `near-${hit.near}` : hit.item.kind), hit.item);
    });
    if (text) {
      matchText(typed, text).forEach((hit) => { put(nameOf("find-group", "text"), items[hit.number]); });
    }
    return Array.from(found, (pair) => ({ name: pair[0], items: pair[1] }));
  }

  function option(item) {
    const one = el("div", "ohm-find-hit",
      el("span", "ohm-find-title", item.title), el("span", "ohm-find-kind", item.kind),
      item.context ? el("span", "ohm-find-context", item.context) : null);
    one.setAttribute("role", "option");
    one.setAttribute("aria-selected", "false");
    one.id = `ohm-find-${options.length}`;
    one.dataset.url = item.url;
    options.push(one);
    return one;
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
    const { textContent: title } = options[0].querySelector(".ohm-find-title");
    return sentence(statement("find.found", { count: options.length, title }));
  }

  function close() {
    panel.hidden = true;
    field.setAttribute("aria-expanded", "false");
    choose(-1);
  }

  function choose(next) {
    if (options[at]) options[at].setAttribute("aria-selected", "false");
    at = next;
    const one = options[at];
    if (!one) { field.removeAttribute("aria-activedescendant"); return; }
    one.setAttribute("aria-selected", "true");
    field.setAttribute("aria-activedescendant", one.id);
    one.scrollIntoView({ block: "nearest" });
  }

  function open(one) {
    if (one) location.href = form.dataset.root + one.dataset.url;
  }

  field.addEventListener("focus", () => {
    ready();
    if (field.value.trim() && panel.hidden) show();
  });
  field.addEventListener("input", () => { ready(); show(); });
  field.addEventListener("keydown", (event) => {
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
  });
  list.addEventListener("click", (event) => { open(event.target.closest(".ohm-find-hit")); });
  // The field keeps its caret, and the phone its keypad, while a hit is being touched.
  list.addEventListener("mousedown", (event) => { event.preventDefault(); });
  clear.addEventListener("click", () => { field.value = ""; show(); field.focus(); });
  form.addEventListener("submit", (event) => { event.preventDefault(); });
  document.addEventListener("click", (event) => { if (!form.contains(event.target)) close(); });
  form.addEventListener("focusout", (event) => {
    if (event.relatedTarget && !form.contains(event.relatedTarget)) close();
  });
  // A page brought back from behind shows the field as it was left, with nothing hanging over it.
  addEventListener("pageshow", close);
  if (field.value) clear.hidden = false;
}

const form = document.querySelector(".ohm-find");
if (form && globalThis.OhmFindIndex) findField(form);
