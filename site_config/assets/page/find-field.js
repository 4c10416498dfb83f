// Find on the page: one field, a list of hits below it, by thumb and by key.

import { statement } from "../answers/statement.js";
import { openText } from "../find/full-text.js";
import { clearlyFirst, openIndex } from "../find/matching.js";
import { openJobs } from "../job/jobs.js";
import { capital, phrase, sentence } from "../words/phrase.js";
import { bringScript, button, el, part } from "./element.js";
import { keepQuery, keptQuery } from "./find-back.js";
import { findAll, hitGroup, hitOption } from "./find-hits.js";

/** A key with this attribute, a family's name, asks Find to look there alone. */
const WITHIN = "data-ohm-find-within";

/** @param {HTMLFormElement} form @param {import("../find/matching.js").IndexRaw} raw */
function findField(form, raw) {
  const field = /** @type {HTMLInputElement} */ (part(form, ".ohm-find-field"));
  const clear = part(form, ".ohm-find-clear");
  const panel = part(form, ".ohm-find-panel");
  const list = part(form, ".ohm-find-list");
  const none = part(form, ".ohm-find-none");
  const says = part(form, "[data-ohm-find-says]");
  const only = el("span");
  const chip = el("p", "ohm-find-only", only,
    button(capital(phrase(statement("find.all-families"))), () => restrict("")));
  panel.prepend(chip);
  // Opened when the field is first touched: most pages are read without it.
  /** @type {?import("../find/matching.js").Index} */
  let index = null;
  /** @type {?import("../find/full-text.js").FullText} */
  let text = null;
  let asked = false;
  /** Whose own come first: the page's family, then those of the open jobs.
   * @type {string[]} */
  let families = [];
  let within = "";
  /** @type {HTMLElement[]} */
  let options = [];
  let at = -1;
  /** Whether Enter may open the first hit unseen. */
  let clearly = false;
  /** Whether hits are asked for, though there may be none to show yet. */
  let wanted = false;

  /** @returns {import("../find/matching.js").Index} */
  function ready() {
    bringText();
    index = index || openIndex(raw);
    return index;
  }

  /** The full text comes as a script when it is first wanted: a page in a folder may not fetch. */
  function bringText() {
    if (asked) return;
    asked = true;
    const there = () => {
      if (globalThis.OhmFindText) text = openText(globalThis.OhmFindText, raw.items[0].length);
    };
    there();
    if (text) return;
    bringScript(form.dataset.later || "", {
      load() {
        there();
        if (wanted) show();
      },
      // Without it the exact things still work; the next use tries again.
      fail() { asked = false; },
    });
  }

  /** Jobs change on other pages, not while somebody types. */
  function lookAround() {
    const page = ready().families.find(({ name }) => name === form.dataset.near);
    families = [...(page ? [page.id] : []), ...openJobs().map(({ family }) => family)];
  }

  function show() {
    const typed = field.value.trim();
    clear.hidden = !field.value;
    options = [];
    list.textContent = "";
    choose(-1);
    chip.hidden = !within;
    only.textContent = capital(phrase(statement("find.within", { family: within })));
    if (!typed) { showNothing(); return; }
    wanted = true;
    const found = findAll(typed, { index: ready(), text }, { families, within });
    found.groups.forEach(({ name, rows }, place) => {
      const choices = rows.map((row, i) => hitOption(row, { place: options.length + i, within }));
      options.push(...choices);
      list.append(hitGroup(name, place, choices));
    });
    clearly = options.length === 1 || (found.hits.length > 0 && clearlyFirst(found.hits));
    list.hidden = !options.length;
    none.hidden = options.length > 0 || !text;
    panel.hidden = list.hidden && none.hidden && chip.hidden;
    list.scrollTop = 0;
    field.setAttribute("aria-expanded", String(options.length > 0));
    says.textContent = outcome();
  }

  /** Nothing is typed: what is left is where it would be looked for. */
  function showNothing() {
    dismiss();
    says.textContent = "";
    list.hidden = none.hidden = true;
    panel.hidden = !within;
  }

  /** @returns {string} for who does not see the list */
  function outcome() {
    if (!options.length) return text ? sentence(statement("find.nothing")) : "";
    const title = part(options[0], ".ohm-find-title").textContent;
    const count = options.length;
    return sentence(clearly ? statement("find.found", { count, title })
      : statement("find.found-several", { count, title }));
  }

  function hide() {
    wanted = false;
    panel.hidden = true;
    field.setAttribute("aria-expanded", "false");
    choose(-1);
  }

  /** Put away by hand, so that Back does not bring it again. */
  function dismiss() {
    hide();
    keepQuery(null);
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
    if (!hit) return;
    keepQuery({ typed: field.value, within });
    hide();
    location.href = `${form.dataset.root || ""}${hit.dataset.url || ""}`;
    // In a file of one family the next page has this very field.
    field.value = "";
    clear.hidden = true;
  }

  /** What led away from this page is back, its list open; else nothing hangs over the page. */
  function bringBack() {
    const kept = keptQuery();
    if (!kept) { hide(); return; }
    field.value = kept.typed;
    within = kept.within;
    lookAround();
    show();
  }

  /** @param {string} family its name; "" for all of them */
  function restrict(family) {
    within = family;
    field.focus();
    show();
  }

  /** @param {KeyboardEvent} event */
  function pressed(event) {
    const last = options.length - 1;
    if (event.isComposing) return;
    if (event.key === "ArrowDown" && panel.hidden) { show(); event.preventDefault(); return; }
    if (event.key === "Escape") {
      if (panel.hidden) { field.value = within = ""; show(); } else dismiss();
    } else if (event.key === "Enter") {
      if (panel.hidden) show();
      else if (at < 0 && !clearly) choose(0);
      else open(options[Math.max(at, 0)]);
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
    lookAround();
    if ((field.value.trim() || within) && panel.hidden) show();
  });
  field.addEventListener("input", show);
  field.addEventListener("keydown", pressed);
  list.addEventListener("click", ({ target }) => {
    if (target instanceof Element) open(target.closest(".ohm-find-hit"));
  });
  // The field keeps its caret, and the phone its keypad, while a hit is being touched.
  list.addEventListener("mousedown", (event) => { event.preventDefault(); });
  clear.addEventListener("click", () => { field.value = ""; show(); field.focus(); });
  form.addEventListener("submit", (event) => { event.preventDefault(); });
  const ours = (/** @type {?EventTarget} */ target) => target instanceof Node && form.contains(target);
  document.addEventListener("click", ({ target }) => {
    const key = target instanceof Element ? target.closest(`[${WITHIN}]`) : null;
    if (key) restrict(key.getAttribute(WITHIN) || "");
    else if (!ours(target)) dismiss();
  });
  form.addEventListener("focusout", ({ relatedTarget }) => {
    if (relatedTarget && !ours(relatedTarget)) dismiss();
  });
  // A page that opens anew may have been typed into before all of it was there.
  addEventListener("pageshow", ({ persisted }) => { if (persisted || keptQuery()) bringBack(); });
  addEventListener("popstate", bringBack);
  if (field.value) clear.hidden = false;
  // It may come late, when somebody is already at it.
  if (keptQuery()) bringBack();
  else if (document.activeElement === field) {
    lookAround();
    show();
  }
}

/** @type {?HTMLFormElement} */
const form = document.querySelector(".ohm-find");
const index = globalThis.OhmFindIndex;
if (form && index) findField(form, index);
