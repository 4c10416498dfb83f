// Find on the page: one field, a list of hits below it, by thumb and by key.
(function (Ohm) {
  "use strict";
  var MOST = 24;
  var MOST_OF_A_KIND = 8;
  var WORDS = {
    "code": "Codes", "sensor": "Sensors", "part": "Parts", "family": "Families",
    "method": "Methods", "instrument": "Instruments", "curve": "Curves", "case": "Past jobs",
    "drawing": "Drawings", "lesson": "Learn", "source": "Sources",
  };

  var form = document.querySelector(".ohm-find");
  if (!form || !globalThis.OhmFindIndex) return;
  var field = form.querySelector(".ohm-find-field");
  var clear = form.querySelector(".ohm-find-clear");
  var panel = form.querySelector(".ohm-find-panel");
  var list = form.querySelector(".ohm-find-list");
  var none = form.querySelector(".ohm-find-none");
  var says = form.querySelector("[data-ohm-find-says]");
  // Opened when the field is first touched: most pages are read without it.
  var items = null;
  var text = null;
  var asked = false;
  var options = [];
  var at = -1;

  function ready() {
    items = items || Ohm.find.openIndex(globalThis.OhmFindIndex);
    bringText();
  }

  /** The full text comes as a script when it is first wanted: a page in a folder may not fetch. */
  function bringText() {
    if (asked) return;
    asked = true;
    if (globalThis.OhmFindText) {
      text = Ohm.find.openText(globalThis.OhmFindText);
      return;
    }
    var script = document.createElement("script");
    script.src = form.dataset.later;
    script.onload = function () {
      text = Ohm.find.openText(globalThis.OhmFindText);
      if (field.value.trim()) show();
    };
    // Without it the exact things still work; the next use tries again.
    script.onerror = function () { asked = false; };
    document.head.append(script);
  }

  /** @returns {Array<{name: string, items: Array}>} groups, the best hit's group first */
  function groups(typed) {
    var seen = new Set();
    var found = new Map();
    var total = 0;
    function put(name, item) {
      if (seen.has(item.number) || total >= MOST) return;
      if (!found.has(name)) found.set(name, []);
      if (found.get(name).length >= MOST_OF_A_KIND) return;
      seen.add(item.number);
      found.get(name).push(item);
      total++;
    }
    Ohm.find.match(typed, items, form.dataset.near).forEach(function (hit) {
      put(hit.slip ? "One letter off" : WORDS[hit.item.kind] || hit.item.kind, hit.item);
    });
    if (text) {
      Ohm.find.matchText(typed, text).forEach(function (hit) { put("In the text", items[hit.number]); });
    }
    return Array.from(found, function (pair) { return { name: pair[0], items: pair[1] }; });
  }

  function span(className, words) {
    var one = document.createElement("span");
    one.className = className;
    one.textContent = words;
    return one;
  }

  function option(item) {
    var one = document.createElement("div");
    one.setAttribute("role", "option");
    one.setAttribute("aria-selected", "false");
    one.id = "ohm-find-" + options.length;
    one.className = "ohm-find-hit";
    one.append(span("ohm-find-title", item.title), span("ohm-find-kind", item.kind));
    if (item.context) one.append(span("ohm-find-context", item.context));
    one.dataset.url = item.url;
    options.push(one);
    return one;
  }

  function show() {
    var typed = field.value.trim();
    clear.hidden = !field.value;
    options = [];
    list.textContent = "";
    choose(-1);
    if (!typed) { close(); says.textContent = ""; return; }
    groups(typed).forEach(function (group, number) {
      var box = document.createElement("div");
      var name = span("ohm-find-group", group.name);
      name.id = "ohm-find-group-" + number;
      name.setAttribute("role", "presentation");
      box.setAttribute("role", "group");
      box.setAttribute("aria-labelledby", name.id);
      box.append(name);
      group.items.forEach(function (item) { box.append(option(item)); });
      list.append(box);
    });
    list.hidden = !options.length;
    none.hidden = options.length > 0 || !text;
    panel.hidden = list.hidden && none.hidden;
    list.scrollTop = 0;
    field.setAttribute("aria-expanded", String(options.length > 0));
    says.textContent = options.length
      ? options.length + " found. Enter opens " + options[0].querySelector(".ohm-find-title").textContent + "."
      : text ? "Nothing found." : "";
  }

  function close() {
    panel.hidden = true;
    field.setAttribute("aria-expanded", "false");
    choose(-1);
  }

  function choose(next) {
    if (options[at]) options[at].setAttribute("aria-selected", "false");
    at = next;
    var one = options[at];
    if (!one) { field.removeAttribute("aria-activedescendant"); return; }
    one.setAttribute("aria-selected", "true");
    field.setAttribute("aria-activedescendant", one.id);
    one.scrollIntoView({ block: "nearest" });
  }

  function open(one) {
    if (one) location.href = form.dataset.root + one.dataset.url;
  }

  field.addEventListener("focus", function () {
    ready();
    if (field.value.trim() && panel.hidden) show();
  });
  field.addEventListener("input", function () { ready(); show(); });
  field.addEventListener("keydown", function (event) {
    var last = options.length - 1;
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
  list.addEventListener("click", function (event) { open(event.target.closest(".ohm-find-hit")); });
  // The field keeps its caret, and the phone its keypad, while a hit is being touched.
  list.addEventListener("mousedown", function (event) { event.preventDefault(); });
  clear.addEventListener("click", function () { field.value = ""; show(); field.focus(); });
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  document.addEventListener("click", function (event) { if (!form.contains(event.target)) close(); });
  form.addEventListener("focusout", function (event) {
    if (event.relatedTarget && !form.contains(event.relatedTarget)) close();
  });
  // A page brought back from behind shows the field as it was left, with nothing hanging over it.
  addEventListener("pageshow", close);
  if (field.value) clear.hidden = false;
})((globalThis.Ohm = globalThis.Ohm || {}));
