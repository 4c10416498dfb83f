// The family page's round: one reading per sensor, a verdict for each, and who disagrees with the rest.

import { judgeTyped } from "./judge-typed.js";
import { remember, remembered } from "../look.js";
import { atRest } from "../numbers/at-rest.js";
import { exchanged } from "../numbers/exchanged.js";
import { gridOf } from "../numbers/grid.js";
import { taken } from "../numbers/instruments.js";
import { parseReading } from "../numbers/notation.js";
import { copyText } from "./copied.js";
import { el } from "./element.js";
import { accept, readField, rememberedChoice, temperatureField } from "./fields.js";
import { sayApart, sayT, today } from "./figures.js";
import { keptFor } from "./kept.js";
import { roundCase, roundText } from "./round-text.js";
import { verdictBadge, verdictBox, verdictWord } from "./verdict-box.js";

function roundForm(form) {
  const told = form.dataset;
  const kept = keptFor(told.family);
  const KEY = `ohm.round.${told.family}`;
  const field = form.elements;
  const says = form.querySelector("output");
  const clear = form.querySelector("[data-clear]");
  const copied = form.querySelector(".ohm-copied");
  const at = temperatureField(form, "round-at", (why) => {
    if (why === "unit") { judge(); } else { typedTemperature(); }
  });
  const atSays = el("p");
  field["round-at"].closest(".ohm-field").append(atSays);
  const rows = Array.from(form.querySelectorAll("[data-sensor]")).map((li) => {
    return {
      id: li.dataset.sensor, label: li.dataset.label, curve: li.dataset.curve,
      place: li.dataset.place || "", grid: gridOf(li.dataset.curve), allowK: Number(li.dataset.allowK),
      input: li.querySelector("input"), says: li.querySelector(".ohm-round-state"),
    };
  });
  let found = []; // what the last look made of the rows, for copying

  function recall() {
    rows.forEach((row) => { row.input.value = kept.of(row.id).reading || ""; });
    let before = {};
    try { before = JSON.parse(remembered(KEY) || "{}") || {}; } catch (broken) { /* begin anew */ }
    if (before.how) { field["round-how"].value = before.how; }
    if (before.at !== undefined) {
      at.show(Number(before.at));
      field["round-at"].closest("details").open = true;
    }
  }

  /** The temperature of the round: a number, null where none is given, NaN where it is unreadable. */
  function roundC() {
    atSays.replaceChildren();
    accept(field["round-at"], atSays);
    if (!field["round-at"].value.trim()) return null;
    const tC = readField(field["round-at"], atSays, at.read);
    return tC === null ? NaN : tC;
  }

  /** A reading typed here was taken in this round: a temperature from its own page no longer holds. */
  function typedReading(row) {
    const reading = row.input.value.trim();
    kept.keep(row.id, reading ? withRound({ reading, meter: field.meter.value }) : null);
    judge();
  }

  function withRound(typed) {
    const tC = roundC();
    typed.round = "yes";
    if (tC !== null && !isNaN(tC)) {
      typed.at = String(tC);
      typed.how = field["round-how"].value;
      typed.thermometer = field.thermometer.value;
    }
    return typed;
  }

  function typedTemperature() {
    const tC = roundC();
    remember(KEY, tC === null || isNaN(tC) ? null
      : JSON.stringify({ at: String(tC), how: field["round-how"].value }));
    rows.forEach((row) => {
      const before = kept.of(row.id);
      if (before.reading && before.round) {
        kept.keep(row.id, withRound({ reading: before.reading, meter: field.meter.value }));
      }
    });
    judge();
  }

  /** @returns {?object} a row's reading with its temperature; null where there is none to use */
  function read(row) {
    row.says.replaceChildren();
    accept(row.input, row.says);
    if (!row.input.value.trim()) return null;
    const rOhm = readField(row.input, row.says, parseReading);
    if (rOhm === null) return null;
    const typed = kept.of(row.id);
    const tC = typed.at === undefined ? null : Number(typed.at);
    return { row, rOhm, typed, tC, elsewhere: tC !== null && !typed.round };
  }

  // A place where one sensor rests alone is as good as none: nobody there can agree with it.
  rows.forEach((row) => {
    row.alone = !rows.some((other) => other !== row && other.place === row.place);
  });
  /** Where anyone's place is known, a sensor without one is held against nobody. */
  const placesKnown = rows.some((row) => row.place);

  function judge() {
    const readings = rows.map(read).filter(Boolean);
    const meter = globalThis.OhmTeam.meters[field.meter.value];
    const places = {};
    readings.forEach((one) => {
      // In ice water a sensor is not at rest with the machine.
      if (one.elsewhere && one.typed.how === "ice-water") return;
      if (placesKnown && (!one.row.place || one.row.alone)) return;
      const resting = places[one.row.place] || (places[one.row.place] = {});
      const shown = taken(one.rOhm, { tC: 20, meter });
      resting[one.row.id] = {
        grid: one.row.grid, rOhm: shown.rOhm, meterHalfOhm: shown.meterHalfOhm, allowK: one.row.allowK,
        meterSpanOhm: shown.meterSpanOhm,
      };
    });
    const standing = {};
    const rested = Object.keys(places).sort();
    const together = rested.map((place) => {
      const told = atRest(places[place], { shortOhm: globalThis.OhmTeam.short_ohm });
      Object.assign(standing, told.standing);
      return { place, centreC: told.centreC };
    });
    found = readings.map((one) => sayRow(one, standing[one.row.id]));
    sayTogether(together, found);
    sayExchanged(exchanged(rested.map((place) => places[place]), { shortOhm: globalThis.OhmTeam.short_ohm }));
    clear.hidden = !found.length;
    form.querySelectorAll("[data-copy]").forEach((key) => { key.disabled = !found.length; });
  }

  function sayRow(one, standing) {
    const words = [];
    let state = standing ? standing.state : null;
    if (one.tC !== null) {
      try {
        const verdict = judgeTyped({ curve: one.row.curve, allow_k: one.row.allowK }, {
          at: String(one.tC), how: one.typed.how, reading: one.row.input.value, meter: field.meter.value,
          thermometer: field.thermometer.value,
        }).verdict;
        state = verdict.verdict;
        words.push(`at ${sayT(one.tC)}${one.elsewhere ? " as typed on its page" : ""}`);
        if (verdict.tImpliedC !== null) { words.push(`reads as at ${sayT(verdict.tImpliedC)}`); }
      } catch (outside) {
        if (outside.name !== "OutOfRange") { throw outside; }
        words.push(outside.message);
      }
    } else if (standing && standing.tImpliedC !== null) {
      words.push(`reads as at ${sayT(standing.tImpliedC)}`);
    }
    if (!standing) {
      words.push(one.elsewhere && one.typed.how === "ice-water"
        ? "not held against the rest, it was in ice water"
        : "not held against the rest, it rests in a place of its own");
    }
    else if (standing.offK !== null) {
      words.push(Math.abs(standing.offK) < 0.05 ? "in the middle of the rest"
        : `${sayApart(standing.offK) + (standing.offK > 0 ? " above" : " below")} the rest` +
          (standing.state === "stands-out" && state !== "stands-out" ? ": it stands out" : ""));
    }
    const text = words.length ? `${capital(words.join(", "))}.` : "";
    one.row.says.append(state ? verdictBadge(state) : "", (state ? ". " : "") + text);
    one.standing = standing;
    one.said = (state ? `${verdictWord(state)}. ` : "") + text;
    return one;
  }

  /** Who disagrees with the rest, in one or two sentences for each place. */
  function sayTogether(together, all) {
    says.textContent = "";
    together.forEach((one) => {
      const there = all.filter((row) => row.row.place === one.place);
      const told = summary(one, there);
      if (one.place) { told[1] = `${capital(one.place)}: ${told[1]}`; }
      says.append(verdictBox(...told));
    });
  }

  /** What stands out twice may be two plugs put back the wrong way round. */
  function sayExchanged(pairs) {
    if (!pairs.length) return;
    const named = pairs.map((pair) => {
      return pair.map((id) => {
        return rows.find((row) => row.id === id).label;
      }).join(" and ");
    });
    says.append(verdictBox("undecided", `${named.join(", or ")}: each reads what the other should. ` +
      "Look whether their plugs are exchanged before you replace either.", "Plugs exchanged?"));
  }

  function summary(together, all) {
    function those(state) { return all.filter(stands(state)).map(labelOf); }
    const compared = all.filter((one) => one.standing && one.standing.offK !== null).length;
    const out = those("stands-out"), unsure = those("undecided");
    const broken = all.filter((one) => one.standing && one.standing.tImpliedC === null)
      .map((one) => `${one.row.label} (${verdictWord(one.standing.state).toLowerCase()})`);
    const rest = broken.length ? ` ${list(broken)} cannot be held against the others.` : "";
    if (compared < 2) {
      return [broken.length ? "outside" : "undecided",
        `Fill in at least three, so that they can be held against each other.${rest}`,
        broken.length ? "Faulty by itself" : "Too few yet"];
    }
    const middle = ` The middle is ${sayT(together.centreC)}.`;
    if (out.length) {
      return ["outside", `${list(out) + (out.length > 1 ? " disagree" : " disagrees")} with the rest.${middle}${rest}`,
        out.length > 1 ? `${out.length} stand out` : `${out[0]} stands out`];
    }
    if (compared < 3) {
      return ["undecided", `Two alone cannot say which of them is wrong.${middle}${rest}`, "Too few yet"];
    }
    if (unsure.length) {
      return ["undecided", list(unsure) + (unsure.length > 1 ? " are" : " is") +
        ` too close to call with these instruments.${middle}${rest}`, "Not decided"];
    }
    return [broken.length ? "outside" : "within", `${compared} agree with each other.${middle}` +
      ` Nothing speaks against them.${rest}`, broken.length ? "The others agree" : "All agree"];
  }

  function stands(state) {
    return (one) => one.standing && one.standing.state === state;
  }

  function labelOf(one) { return one.row.label; }

  function capital(words) { return words.charAt(0).toUpperCase() + words.slice(1); }

  function list(labels) {
    return labels.length < 2 ? labels.join("") : `${labels.slice(0, -1).join(", ")} and ${labels[labels.length - 1]}`;
  }

  function round() {
    return {
      family: told.family, name: told.name, on: today(), by: remembered("ohm.by") || "",
      meter: field.meter.value, meterName: field.meter.selectedOptions[0].textContent,
      thermometer: field.thermometer.value,
      thermometerName: field.thermometer.selectedOptions[0].textContent,
      rows: found.map((one) => {
        return {
          sensor: one.row.id, label: one.row.label, reading: one.row.input.value.trim().replace(/\s+/g, " "),
          tC: one.tC, how: one.tC === null ? null : one.typed.how, said: one.said,
        };
      }),
      together: Array.from(says.querySelectorAll(".ohm-verdict")).map((box) => {
        return `${box.querySelector(".ohm-verdict-word").lastChild.textContent.trim()}. ` +
          box.querySelector(".ohm-verdict-why").textContent;
      }).join(" "),
    };
  }

  [field["round-how"], field.meter, field.thermometer].forEach(rememberedChoice);
  recall();
  rows.forEach((row) => {
    row.input.setAttribute("data-always-says", "");
    row.input.addEventListener("input", () => { typedReading(row); });
  });
  field["round-at"].addEventListener("input", typedTemperature);
  ["round-how", "meter", "thermometer"].forEach((name) => {
    field[name].addEventListener("change", typedTemperature);
  });
  form.querySelectorAll("[data-copy]").forEach((key) => {
    key.addEventListener("click", () => {
      if (key.dataset.copy === "text") { copyText(copied, roundText(round()), "The round as text"); }
      else { copyText(copied, roundCase(round()), "The round as a case entry"); }
    });
  });
  clear.addEventListener("click", () => {
    rows.forEach((row) => { kept.keep(row.id, null); row.input.value = ""; });
    field["round-at"].value = "";
    remember(KEY, null);
    copied.hidden = true;
    judge();
    rows[0].input.focus();
  });
  document.addEventListener("ohm:unit", judge);
  form.addEventListener("submit", (event) => { event.preventDefault(); });
  form.hidden = false;
  judge();
}

const form = document.querySelector('[data-calc="round"]');
if (form) roundForm(form);
