// Lists to tick off, such as every plug to put back: ticks stay on this phone until cleared.
// A list is complete only when its owner says so, and that can be said only with nothing left.
(function (Ohm) {
  "use strict";

  /**
   * @param {string} list the list's name
   * @returns {{ticked: string[], complete: boolean}} what this phone remembers of it
   */
  Ohm.ticks = function (list) {
    var words = (Ohm.remembered("ohm.ticks." + list) || "").split(" ").filter(Boolean);
    return {
      ticked: words.filter(function (word) { return word !== "complete"; }),
      complete: words.indexOf("complete") >= 0,
    };
  };

  function keep(list, ticked, complete) {
    var words = complete ? ticked.concat("complete") : ticked;
    Ohm.remember("ohm.ticks." + list, words.length ? words.join(" ") : null);
  }

  function made(tag, cls, words) {
    var one = document.createElement(tag);
    one.className = cls;
    one.textContent = words;
    if (tag === "button") { one.type = "button"; }
    return one;
  }

  function bring(list) {
    var name = list.dataset.list;
    var done = list.dataset.done || "done";
    var boxes = Array.from(list.querySelectorAll("input[type=checkbox]"));
    var count = made("p", "ohm-tick-state", "");
    var finish = made("button", "ohm-key ohm-tick-finish", list.dataset.finish || "Complete");
    var clear = made("button", "ohm-key", "Clear ticks");
    count.setAttribute("role", "status");
    list.after(count, finish, clear);

    function ticked() {
      return boxes.filter(function (box) { return box.checked; })
        .map(function (box) { return box.dataset.tick; });
    }

    function say() {
      var now = ticked();
      var complete = Ohm.ticks(name).complete;
      var left = boxes.length - now.length;
      count.textContent = complete
        ? "✓ Complete: all " + boxes.length + " " + done + "."
        : now.length + " of " + boxes.length + " " + done + (left ? ", " + left + " left." : ".");
      count.dataset.complete = String(complete);
      finish.disabled = left > 0;
      finish.hidden = complete;
      clear.hidden = now.length === 0;
    }

    function changed() {
      keep(name, ticked(), false);
      say();
    }

    var before = Ohm.ticks(name).ticked;
    boxes.forEach(function (box) { box.checked = before.indexOf(box.dataset.tick) >= 0; });
    list.addEventListener("change", changed);
    finish.addEventListener("click", function () {
      if (ticked().length < boxes.length) { return; }
      keep(name, ticked(), true);
      say();
      count.focus();
    });
    clear.addEventListener("click", function () {
      boxes.forEach(function (box) { box.checked = false; });
      changed();
      boxes[0].focus();
    });
    count.tabIndex = -1;
    say();
  }

  document.querySelectorAll(".ohm-tick[data-list]").forEach(bring);
})((globalThis.Ohm = globalThis.Ohm || {}));
