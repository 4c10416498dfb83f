// Fields that several forms share: temperatures with − and + keys, choices that are remembered.
(function (Ohm) {
  "use strict";

  /**
   * Bring a temperature field to life: its keys step it, and it follows the page's unit.
   * @param {HTMLFormElement} form @param {string} name
   * @param {function(string=): void} changed called after a key stepped it, or with "unit"
   * @returns {{read: function(): number, show: function(number): void}} read throws Unreadable
   */
  Ohm.temperatureField = function (form, name, changed) {
    var input = form.elements[name];
    var sayUnit = form.querySelector("#" + name + "-unit");
    var unit = Ohm.unit.now();

    function read() { return Ohm.parseTemperature(input.value, Ohm.unit.now()); }

    function show(tC) {
      var value = Ohm.unit.now() === "F" ? (tC * 9) / 5 + 32 : tC;
      input.value = String(Math.round(value * 10) / 10).replace("-", "−");
    }

    function follow() {
      var was = unit;
      unit = Ohm.unit.now();
      sayUnit.textContent = "°" + unit;
      if (was === unit || !input.value.trim()) { return; }
      try { show(Ohm.parseTemperature(input.value, was)); } catch (unreadable) { /* left as typed */ }
    }

    form.querySelectorAll("#" + name).forEach(function (one) {
      one.parentElement.querySelectorAll("[data-step]").forEach(function (key) {
        key.addEventListener("click", function () {
          var step = Number(key.dataset.step);
          var now;
          try { now = read(); } catch (unreadable) { now = 20 - step; }
          // A whole step of the unit that is shown, from a whole number.
          var shown = Ohm.unit.now() === "F" ? (now * 9) / 5 + 32 : now;
          var next = step > 0 ? Math.floor(shown + 1e-6) + step : Math.ceil(shown - 1e-6) + step;
          input.value = String(next).replace("-", "−");
          changed();
        });
      });
    });
    document.addEventListener("ohm:unit", function () { follow(); changed("unit"); });
    follow();
    return { read: read, show: show };
  };

  /** Remember a choice on this phone. @param {HTMLSelectElement} select */
  Ohm.rememberedChoice = function (select) {
    var key = "ohm.choice." + select.name;
    var before = Ohm.remembered(key);
    var there = Array.from(select.options).some(function (one) { return one.value === before; });
    if (there) { select.value = before; }
    select.addEventListener("change", function () { Ohm.remember(key, select.value); });
  };

  /**
   * Read a field; what cannot be read is said in `where`, and the field points there.
   * @param {HTMLInputElement} input @param {Element} where
   * @param {function(string): number} read throws Unreadable
   * @param {string} [also] what else may be typed
   * @returns {?number} null when it cannot be read
   */
  Ohm.readField = function (input, where, read, also) {
    try {
      var value = read(input.value);
      Ohm.accept(input, where);
      return value;
    } catch (unreadable) {
      Ohm.refuse(where, unreadable.message + (also || "") + ".", input);
      return null;
    }
  };

  /** Say why there is no answer. @param {Element} where @param {string} words @param {Element} [input] */
  Ohm.refuse = function (where, words, input) {
    where.replaceChildren(Ohm.el("p", "ohm-refused", words));
    if (!input) { return; }
    input.setAttribute("aria-invalid", "true");
    if (!where.id) { where.id = input.id + "-says"; }
    describe(input, where.id, true);
  };

  /** Take back what `refuse` said of a field. @param {Element} input @param {Element} where */
  Ohm.accept = function (input, where) {
    input.removeAttribute("aria-invalid");
    if (!input.hasAttribute("data-always-says")) { describe(input, where.id, false); }
  };

  function describe(input, id, on) {
    var ids = (input.getAttribute("aria-describedby") || "").split(" ").filter(function (one) {
      return one && one !== id;
    });
    if (on && id) { ids.unshift(id); }
    if (ids.length) { input.setAttribute("aria-describedby", ids.join(" ")); } else { input.removeAttribute("aria-describedby"); }
  }

  /** @param {string} tag @param {?string} cls @param {...(string|Node|null)} inner @returns {Element} */
  Ohm.el = function (tag, cls) {
    var made = document.createElement(tag);
    if (cls) { made.className = cls; }
    Array.prototype.slice.call(arguments, 2).forEach(function (one) {
      if (one !== null && one !== undefined) { made.append(one); }
    });
    return made;
  };

  /** Metal changes little with temperature, so it is told with one digit more.
   * @param {Ohm.Grid} grid @param {...number} rOhm one resistance, or the two ends of a span */
  Ohm.sayOhm = function (grid, rOhm, highOhm) {
    var digits = grid.falling ? 4 : 5;
    return highOhm === undefined ? Ohm.formatOhm(rOhm, digits) : Ohm.formatOhmSpan(rOhm, highOhm, digits);
  };

  /** @param {Array<[string, string]>} rows @returns {Element} key facts, empty ones left out */
  Ohm.facts = function (rows) {
    var list = Ohm.el("dl", "ohm-facts");
    rows.forEach(function (row) {
      if (row[1]) { list.append(Ohm.el("div", null, Ohm.el("dt", null, row[0]), Ohm.el("dd", null, row[1]))); }
    });
    return list;
  };
})((globalThis.Ohm = globalThis.Ohm || {}));
