// Lists to tick off, such as every plug to put back: ticks stay on this phone until cleared.
// A list is complete only when its owner says so, and that can be said only with nothing left.

import { button, el, parts } from "./element.js";
import { keepTicks, ticksOf } from "./kept-ticks.js";

/** @param {HTMLElement} list */
function bring(list) {
  const name = list.dataset.list || "";
  const done = list.dataset.done || "done";
  /** @type {NodeListOf<HTMLInputElement>} */
  const found = list.querySelectorAll("input[type=checkbox]");
  const boxes = Array.from(found);
  const count = el("p", "ohm-tick-state");
  const finish = button(list.dataset.finish || "Complete", complete, "ohm-key ohm-tick-finish");
  const clear = button("Clear ticks", forget, "ohm-key");
  count.setAttribute("role", "status");
  list.after(count, finish, clear);

  function ticked() {
    return boxes.filter((box) => box.checked).map((box) => box.dataset.tick || "");
  }

  function say() {
    const now = ticked();
    const whole = ticksOf(name).complete;
    const left = boxes.length - now.length;
    count.textContent = whole
      ? `✓ Complete: all ${boxes.length} ${done}.`
      : `${now.length} of ${boxes.length} ${done}${left ? `, ${left} left.` : "."}`;
    count.dataset.complete = String(whole);
    finish.disabled = left > 0;
    finish.hidden = whole;
    clear.hidden = now.length === 0;
  }

  function changed() {
    keepTicks(name, ticked(), false);
    say();
  }

  function complete() {
    if (ticked().length < boxes.length) return;
    keepTicks(name, ticked(), true);
    say();
    count.focus();
  }

  function forget() {
    boxes.forEach((box) => { box.checked = false; });
    changed();
    boxes[0].focus();
  }

  const before = ticksOf(name).ticked;
  boxes.forEach((box) => { box.checked = before.includes(box.dataset.tick || ""); });
  list.addEventListener("change", changed);
  count.tabIndex = -1;
  say();
}

parts(document, ".ohm-tick[data-list]").forEach(bring);
