// Lists to tick off, such as every plug to put back: ticks stay on this phone until cleared.
(function (Ohm) {
  "use strict";

  function bring(list) {
    var key = "ohm.ticks." + list.dataset.list;
    var boxes = Array.from(list.querySelectorAll("input[type=checkbox]"));
    var count = document.createElement("p");
    var clear = document.createElement("button");
    count.className = "ohm-tick-state";
    count.setAttribute("role", "status");
    clear.type = "button";
    clear.className = "ohm-key";
    clear.textContent = "Clear ticks";
    list.after(count, clear);

    function say() {
      var left = boxes.filter(function (box) { return !box.checked; }).length;
      count.textContent = left === 0 ? "All " + boxes.length + " put back."
        : left + " of " + boxes.length + " left.";
      clear.hidden = left === boxes.length;
    }

    function keep() {
      var ticked = boxes.filter(function (box) { return box.checked; })
        .map(function (box) { return box.dataset.tick; });
      Ohm.remember(key, ticked.length ? ticked.join(" ") : null);
      say();
    }

    var kept = (Ohm.remembered(key) || "").split(" ");
    boxes.forEach(function (box) { box.checked = kept.includes(box.dataset.tick); });
    list.addEventListener("change", keep);
    clear.addEventListener("click", function () {
      boxes.forEach(function (box) { box.checked = false; });
      keep();
      boxes[0].focus();
    });
    say();
  }

  document.querySelectorAll(".ohm-tick[data-list]").forEach(bring);
})((globalThis.Ohm = globalThis.Ohm || {}));
