// Settle light or dark before the first paint, and say that scripts run. Not deferred, for that reason.
(function (Ohm) {
  "use strict";
  var KEY = "ohm.look";
  var sheet = document.querySelector("[data-ohm-dark]");
  var system = sheet.media;
  document.documentElement.className = "js";

  /** A phone may refuse to remember, as when opened from a folder: then it forgets, no more. */
  Ohm.remembered = function (key) {
    try { return localStorage.getItem(key); } catch (refused) { return null; }
  };
  Ohm.remember = function (key, value) {
    try {
      if (value === null) localStorage.removeItem(key);
      else localStorage.setItem(key, value);
    } catch (refused) { /* forgotten at the next page, no more */ }
  };

  Ohm.look = {
    /** What the phone itself says, to be listened to. */
    phone: matchMedia(system),
    /** @returns {boolean} */
    dark: function () {
      var chosen = Ohm.remembered(KEY);
      return chosen ? chosen === "dark" : Ohm.look.phone.matches;
    },
    /** @param {boolean} dark */
    choose: function (dark) {
      // Choosing what the phone says anyway follows the phone again.
      Ohm.remember(KEY, dark === Ohm.look.phone.matches ? null : dark ? "dark" : "light");
      sheet.media = dark === Ohm.look.phone.matches ? system : dark ? "all" : "not all";
    },
  };
  if (Ohm.remembered(KEY)) Ohm.look.choose(Ohm.look.dark());
})((globalThis.Ohm = globalThis.Ohm || {}));
