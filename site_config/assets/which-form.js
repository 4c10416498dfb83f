// Which curve is this? From one to five readings: what fits, what does not, and where two would part.
(function (Ohm) {
  "use strict";
  var form = document.querySelector('[data-calc="which"]');
  if (!form) { return; }

  var KEY = "ohm.which";
  var told = JSON.parse(form.dataset.curves);
  var curves = {};
  Object.keys(told).forEach(function (id) { curves[id] = Ohm.curve(id); });
  var field = form.elements;
  var answer = form.querySelector("output");
  var more = form.querySelector(".ohm-more");
  var clear = form.querySelector("[data-clear]");
  var another = form.querySelector("[data-more]");
  var unit = Ohm.unit.now();
  var pairs = Array.from(form.querySelectorAll(".ohm-pairs > li")).map(function (li) {
    var inputs = li.querySelectorAll("input");
    var says = Ohm.el("p", "ohm-pair-says");
    li.append(says);
    return { li: li, at: inputs[0], reading: inputs[1], says: says };
  });

  function t(tC) { return Ohm.formatT(tC, Ohm.unit.now(), 1); }
  function k(differenceK) { return Ohm.formatK(differenceK, Ohm.unit.now()); }
  function filled(pair) { return pair.at.value.trim() || pair.reading.value.trim(); }

  function recall() {
    var before = [];
    try { before = JSON.parse(Ohm.remembered(KEY) || "[]") || []; } catch (broken) { /* begin anew */ }
    before.slice(0, pairs.length).forEach(function (one, i) {
      pairs[i].at.value = one[0];
      pairs[i].reading.value = one[1];
      pairs[i].li.hidden = false;
    });
  }

  function typed() {
    var told = pairs.filter(filled).map(function (pair) { return [pair.at.value, pair.reading.value]; });
    Ohm.remember(KEY, told.length ? JSON.stringify(told) : null);
    look();
  }

  /** @returns {?object} a reading; null where it is empty, half, or cannot be read */
  function read(pair) {
    pair.says.replaceChildren();
    [pair.at, pair.reading].forEach(function (one) { Ohm.accept(one, pair.says); });
    if (!pair.at.value.trim() || !pair.reading.value.trim()) { return null; }
    var tC = Ohm.readField(pair.at, pair.says, function (text) {
      return Ohm.parseTemperature(text, Ohm.unit.now());
    });
    if (tC === null) { return null; }
    var rOhm = Ohm.readField(pair.reading, pair.says, Ohm.parseOhm);
    if (rOhm === null) { return null; }
    var team = globalThis.OhmTeam;
    try {
      return Ohm.taken(rOhm, {
        tC: tC, meter: team.meters[field.meter.value],
        thermometer: team.thermometers[field.thermometer.value], placement: field["which-how"].value,
      });
    } catch (outside) {
      Ohm.refuse(pair.says, outside.message + ".", pair.at);
      return null;
    }
  }

  function look() {
    var readings = pairs.map(read).filter(Boolean);
    clear.hidden = !pairs.some(filled);
    another.hidden = !pairs.some(function (pair) { return pair.li.hidden; });
    more.replaceChildren();
    if (!readings.length) {
      answer.textContent = pairs.some(filled) ? "A temperature and a reading make a pair."
        : "Type a temperature and what the meter shows at it.";
      return;
    }
    var which = Ohm.whichCurve(curves, { readings: readings });
    var fitting = which.ranking.filter(function (one) { return one.fits; });
    answer.replaceChildren(verdict(which, fitting));
    if (fitting.length) { more.append(Ohm.el.apply(null, ["ol", "ohm-ranking"].concat(fitting.map(row)))); }
    more.append(others(which.ranking.filter(function (one) { return !one.fits; })));
  }

  function verdict(which, fitting) {
    if (!fitting.length) {
      var nearest = which.ranking.find(function (one) { return isFinite(one.worstK); });
      return Ohm.verdictBox("outside", "No curve of these notes fits every reading." + (nearest
        ? " The nearest is " + told[nearest.curve].name + ", up to " + k(nearest.worstK) + " off."
        : " None of them even reaches these readings."), "None of ours");
    }
    if (which.separable) {
      return Ohm.verdictBox("within", "Of " + which.ranking.length + " curves only this one fits every reading.",
        told[fitting[0].curve].name);
    }
    return Ohm.verdictBox("undecided", part(which.parting, fitting), fitting.length + " fit: not told apart");
  }

  /** Honest when two cannot be told apart, and at which temperature they part. */
  function part(parting, fitting) {
    var two = "These readings cannot tell " + told[fitting[0].curve].name + " from " +
      told[fitting[1].curve].name + ".";
    if (!parting) { return two + " The two share no temperature, so take a reading where only one of them holds."; }
    if (parting.certain) {
      return two + " Measure at " + t(parting.atC) + ": there they part by " + k(parting.byK) +
        ", and " + k(parting.neededK) + " are enough.";
    }
    return two + " They never part for certain with these instruments: at most by " + k(parting.byK) + ", at " +
      t(parting.atC) + ", and " + k(parting.neededK) + " would be needed.";
  }

  function link(id) {
    var made = Ohm.el("a", null, told[id].name);
    made.href = told[id].href;
    return made;
  }

  function row(one) {
    var on = told[one.curve].on;
    return Ohm.el("li", null, link(one.curve),
      Ohm.el("p", "ohm-note", "At most " + k(one.worstK) + " off. " + (on.length
        ? "On " + on.slice(0, 4).join(", ") + (on.length > 4 ? " and " + (on.length - 4) + " more" : "") + "."
        : "On no sensor of these notes.")));
  }

  function others(list) {
    var fold = Ohm.el("details", null, Ohm.el("summary", null, list.length + " that do not fit"));
    fold.append(Ohm.el.apply(null, ["ul", null].concat(list.map(function (one) {
      return Ohm.el("li", null, isFinite(one.worstK) ? "up to " + k(one.worstK) + " off: " : "does not reach a reading: ",
        link(one.curve));
    }))));
    return list.length ? fold : "";
  }

  /** A temperature that was typed follows the page's unit. */
  function followUnit() {
    var was = unit;
    unit = Ohm.unit.now();
    form.querySelectorAll("[data-unit]").forEach(function (one) { one.textContent = "°" + unit; });
    if (was === unit) { return; }
    pairs.forEach(function (pair) {
      try {
        var tC = Ohm.parseTemperature(pair.at.value, was);
        pair.at.value = Ohm.formatT(tC, unit, 1).split("\u00a0")[0].replace(/\.0$/, "");
      } catch (unreadable) { /* left as typed */ }
    });
    typed();
  }

  [field["which-how"], field.meter, field.thermometer].forEach(Ohm.rememberedChoice);
  recall();
  pairs.forEach(function (pair) {
    pair.at.addEventListener("input", typed);
    pair.reading.addEventListener("input", typed);
  });
  ["which-how", "meter", "thermometer"].forEach(function (name) { field[name].addEventListener("change", look); });
  another.addEventListener("click", function () {
    var next = pairs.find(function (pair) { return pair.li.hidden; });
    next.li.hidden = false;
    next.at.focus();
    look();
  });
  clear.addEventListener("click", function () {
    pairs.forEach(function (pair, i) {
      pair.at.value = pair.reading.value = "";
      pair.li.hidden = i > 0;
    });
    typed();
    pairs[0].at.focus();
  });
  document.addEventListener("ohm:unit", followUnit);
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  form.hidden = false;
  followUnit();
  look();
})((globalThis.Ohm = globalThis.Ohm || {}));
