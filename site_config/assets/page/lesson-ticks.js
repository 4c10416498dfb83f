// Which steps of which lesson are done, on this phone alone: the boxes of a lesson, and on the path
// how far each is and where to go on.

import { statement } from "../answers/statement.js";
import { remember, rememberedAs } from "../look.js";
import { inWords, phrase } from "../words/phrase.js";
import { part, parts } from "./element.js";

/** at: the lesson that was ticked last; done: keys of steps by lesson.
 * @typedef {{at: string, done: Object<string, string[]>}} Learnt */

const KEY = "ohm.learnt";

/** @returns {Learnt} */
function learnt() { return rememberedAs(KEY, { at: "", done: { "*": [""] } }) || { at: "", done: {} }; }

/** @param {string} lesson @param {string[]} keys of its steps @returns {string[]} those not done */
const left = (lesson, keys) => {
  const done = learnt().done[lesson] || [];
  return keys.filter((key) => !done.includes(key));
};

/** @param {HTMLElement} place */
function lesson(place) {
  const id = place.dataset.ohmLesson || "";
  /** @type {NodeListOf<HTMLInputElement>} */
  const found = place.querySelectorAll("input[data-tick]");
  const boxes = Array.from(found);
  const show = () => {
    const done = learnt().done[id] || [];
    boxes.forEach((box) => { box.checked = done.includes(box.dataset.tick || ""); });
  };
  place.addEventListener("change", () => {
    const known = learnt();
    const ticked = boxes.filter((box) => box.checked).map((box) => box.dataset.tick || "");
    remember(KEY, JSON.stringify({ at: id, done: { ...known.done, [id]: ticked } }));
  });
  addEventListener("pageshow", show);
  addEventListener("storage", show);
  show();
}

/** @param {HTMLElement[]} lessons in order */
function path(lessons) {
  const onward = /** @type {HTMLAnchorElement} */ (part(document, "[data-ohm-go-on]"));
  const show = () => {
    const { at } = learnt();
    const rows = lessons.map((item) => {
      const keys = (item.dataset.steps || "").split(" ").filter(Boolean);
      return { item, keys, open: left(item.dataset.ohmLesson || "", keys) };
    });
    rows.forEach(({ item, keys, open }) => {
      const state = part(item, "[data-ohm-done]");
      const count = keys.length - open.length;
      state.hidden = !count;
      state.textContent = open.length ? phrase(statement("path.some", { count, of: keys.length }))
        : `✓ ${inWords("path.whole")}`;
    });
    // On with the lesson that was ticked last; once it is whole, with the next that is not.
    const last = rows.findIndex(({ item }) => item.dataset.ohmLesson === at);
    const next = [...rows.slice(Math.max(last, 0)), ...rows].find(({ open }) => open.length);
    part(document, ".ohm-ways-on").hidden = !next;
    if (!next) return;
    const way = /** @type {HTMLAnchorElement} */ (part(next.item, "a"));
    const step = next.keys.indexOf(next.open[0]) + 1;
    onward.href = `${way.href}#step-${step}`;
    const figures = { lesson: way.textContent, step };
    const begun = last >= 0;
    onward.textContent = phrase(statement(`path.${begun ? "on" : "begin"}`, figures));
  };
  addEventListener("pageshow", show);
  addEventListener("storage", show);
  show();
}

const steps = parts(document, ".ohm-lesson-steps[data-ohm-lesson]");
steps.forEach(lesson);
if (!steps.length) path(parts(document, ".ohm-path > [data-ohm-lesson]"));
