// The frame of every page: °C or °F, light or dark.
(function (Ohm) {
  "use strict";
  var KEY = "ohm.unit";

  Ohm.unit = {
    /** @returns {"C"|"F"} */
    now: function () { return Ohm.remembered(KEY) === "F" ? "F" : "C"; },
    /** @param {"C"|"F"} unit; tells everyone by the event `ohm:unit` on the document */
    choose: function (unit) {
      Ohm.remember(KEY, unit);
      sayAll(document, unit);
      document.dispatchEvent(new CustomEvent("ohm:unit", { detail: unit }));
    },
    /** Say the temperatures inside an element that was made after the page. @param {Element} where */
    say: function (where) { sayAll(where, Ohm.unit.now()); },
  };

  function sayAll(where, unit) {
    where.querySelectorAll(".ohm-t[data-c]").forEach(function (one) {
      // What the notes said stays as they said it; only °F is worked out.
      if (!one.dataset.said) one.dataset.said = one.textContent;
      var tC = Number(one.dataset.c);
      one.textContent = unit === "C" ? one.dataset.said
        : Ohm.formatT(tC, "F", Number.isInteger(tC) ? 0 : 1);
    });
    where.querySelectorAll(".ohm-dt[data-k]").forEach(function (one) {
      if (!one.dataset.said) one.dataset.said = one.textContent;
      one.textContent = unit === "C" ? one.dataset.said : Ohm.formatK(Number(one.dataset.k), "F");
    });
  }

  function button(name) { return document.querySelector('[data-ohm-switch="' + name + '"]'); }

  function sayUnit() {
    var unit = Ohm.unit.now();
    var key = button("unit");
    key.textContent = "°" + unit;
    key.setAttribute("aria-label", "Temperatures in °" + unit + "; change to °" + (unit === "C" ? "F" : "C"));
  }

  function sayLook() {
    var dark = Ohm.look.dark();
    var key = button("look");
    key.textContent = dark ? "☀" : "☾";
    key.setAttribute("aria-label", dark ? "Change to light" : "Change to dark");
  }

  button("unit").addEventListener("click", function () {
    Ohm.unit.choose(Ohm.unit.now() === "C" ? "F" : "C");
    sayUnit();
  });
  button("look").addEventListener("click", function () {
    Ohm.look.choose(!Ohm.look.dark());
    sayLook();
  });
  Ohm.look.phone.addEventListener("change", sayLook);
  sayUnit();
  sayLook();
  if (Ohm.unit.now() === "F") sayAll(document, "F");
})((globalThis.Ohm = globalThis.Ohm || {}));
