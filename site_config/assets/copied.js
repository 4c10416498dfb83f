// Hand a text over: to the clipboard where the browser lets a page do so, and to read or select.
(function (Ohm) {
  "use strict";

  /**
   * Show a text, selected, and copy it if that is allowed. From a folder it often is not.
   * @param {Element} place @param {string} text @param {string} label what the text is
   */
  Ohm.copyText = function (place, text, label) {
    var area = Ohm.el("textarea", "ohm-copied-text");
    var says = Ohm.el("p", "ohm-copied-says");
    says.setAttribute("role", "status");
    area.readOnly = true;
    area.rows = Math.min(14, text.split("\n").length);
    area.value = text;
    area.setAttribute("aria-label", label);
    area.addEventListener("focus", function () { area.select(); });
    place.replaceChildren(says, area);
    place.hidden = false;
    area.focus();
    area.select();

    function done() { says.textContent = "Copied. " + label + ":"; }
    function byHand() { says.textContent = "This browser does not copy from here by itself. The text is selected: copy it with the phone's own menu."; }
    function older() {
      var copied = false;
      area.focus();
      area.select();
      try { copied = document.execCommand("copy"); } catch (refused) { /* said below */ }
      if (copied) { done(); } else { byHand(); }
    }

    if (!navigator.clipboard || !navigator.clipboard.writeText) { older(); return; }
    navigator.clipboard.writeText(text).then(done, older);
  };
})((globalThis.Ohm = globalThis.Ohm || {}));
