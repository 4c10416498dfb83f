// The curve page's table of every degree, built when somebody opens it, fifty degrees at a time.
(function (Ohm) {
  "use strict";
  var fold = document.querySelector('[data-calc="fine-table"]');
  var grid = fold && Ohm.curve(fold.dataset.curve);
  if (!grid) { return; }

  var PIECE = 50;
  var SPARE = 10; // so many rows more than a piece do not begin another
  var body = Ohm.el("div");
  var pieces = Ohm.el("div", "ohm-keys");
  var first = null;

  function fromC(tC) { return Ohm.unit.now() === "F" ? Math.round(((tC * 9) / 5 + 32) * 1e6) / 1e6 : tC; }
  function toC(shown) { return Ohm.unit.now() === "F" ? ((shown - 32) * 5) / 9 : shown; }
  function said(shown) { return String(shown).replace("-", "−"); }

  /** @returns {Array<[number, number]>} first and last whole degree of each piece, as shown */
  function cut() {
    var low = Math.ceil(fromC(grid.lowC) - 1e-9);
    var high = Math.floor(fromC(grid.highC) + 1e-9);
    if (high - low <= PIECE + SPARE) { return [[low, high]]; }
    var found = [];
    for (var from = Math.floor(low / PIECE) * PIECE; from < high; from += PIECE) {
      found.push([Math.max(from, low), Math.min(from + PIECE, high)]);
    }
    return found;
  }

  function offer() {
    var all = cut();
    pieces.replaceChildren();
    if (all.length > 1) {
      all.forEach(function (piece) {
        var key = Ohm.el("button", "ohm-key", said(piece[0]) + " to " + said(piece[1]));
        key.type = "button";
        key.addEventListener("click", function () { show(piece); });
        pieces.append(key);
      });
    }
    var home = all.find(function (piece) { return fromC(20) >= piece[0] && fromC(20) <= piece[1]; });
    show(home || all[0]);
  }

  function show(piece) {
    first = piece[0];
    var unit = "°" + Ohm.unit.now();
    var caption = fold.dataset.name + ", every degree from " + said(piece[0]) + " to " + said(piece[1]) + " " + unit;
    var rows = Ohm.el("tbody");
    for (var shown = piece[0]; shown <= piece[1]; shown++) { rows.append(row(shown)); }
    var heads = ["At", "Expect"].concat(grid.tol ? ["Within", "±"] : []);
    var table = Ohm.el("table", "ohm-table",
      Ohm.el("caption", null, caption),
      Ohm.el("thead", null, Ohm.el.apply(null, ["tr", null].concat(heads.map(function (head) {
        return scoped(Ohm.el("th", null, head), "col");
      })))),
      rows);
    var region = Ohm.el("div", "ohm-scroll", table);
    region.tabIndex = 0;
    region.setAttribute("role", "region");
    region.setAttribute("aria-label", caption);
    body.replaceChildren(region);
    Array.from(pieces.children).forEach(function (key) {
      key.setAttribute("aria-pressed", String(key.textContent === said(piece[0]) + " to " + said(piece[1])));
    });
  }

  function scoped(cell, scope) { cell.scope = scope; return cell; }

  function row(shown) {
    // The first and the last may be a rounding error outside.
    var tC = Math.min(Math.max(toC(shown), grid.lowC), grid.highC);
    var made = Ohm.el("tr", null,
      scoped(Ohm.el("th", null, said(shown) + "\u00a0°" + Ohm.unit.now()), "row"),
      Ohm.el("td", null, Ohm.el("strong", null, Ohm.formatOhm(grid.ohm(tC)))));
    if (grid.tol) {
      made.append(
        Ohm.el("td", null, Ohm.formatOhmSpan(grid.low(tC), grid.high(tC))),
        Ohm.el("td", null, Ohm.formatK(grid.tolK(tC), Ohm.unit.now())));
    }
    return made;
  }

  fold.addEventListener("toggle", function () { if (fold.open && first === null) { offer(); } });
  document.addEventListener("ohm:unit", function () { if (first !== null) { offer(); } });
  fold.append(pieces, body);
  fold.hidden = false;
})((globalThis.Ohm = globalThis.Ohm || {}));
