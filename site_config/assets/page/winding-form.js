// The part page's winding form: each pair of leads in, one verdict on all of them out.

import { Refusal, statement } from "../answers/statement.js";
import { answerWindings, windingRefusals } from "../answers/winding.js";
import { formatDeparture, formatOhmTo, formatPercent } from "../numbers/rounding.js";
import { capital, nameOf, sentence } from "../words/phrase.js";
import { el, heading, part, scrolling } from "./element.js";
import { accept, fieldsOf, formOf, openForm, refuse, temperatureField } from "./fields.js";
import { keptFor } from "./kept.js";
import { kit, toolsOf } from "./team.js";
import { unit } from "./unit.js";
import { verdictBox } from "./verdict-box.js";

/** @typedef {import("../answers/winding.js").WindingAnswer} WindingAnswer */
/** @typedef {import("../answers/winding-reading.js").WindingFacts} WindingFacts */
/** A pair of leads, where its reading is typed and where what is wrong with it is said.
 * @typedef {{pair: string, input: HTMLInputElement, says: HTMLElement}} Row */

/** @param {HTMLFormElement} form @param {WindingFacts} facts the entry's */
function windingForm(form, facts) {
  const kept = keptFor(`part.${form.dataset.part}`);
  const field = fieldsOf(form);
  /** @type {HTMLInputElement} */
  const atInput = field["winding-at"];
  /** @type {HTMLSelectElement} */
  const meterChoice = field["winding-meter"];
  const answer = part(form, "output");
  const more = part(form, ".ohm-more");
  const clear = part(form, "[data-clear]");
  const at = temperatureField(form, "winding-at", typed);
  const rows = Object.keys(facts.pairs).map((pair, i) => {
    /** @type {HTMLInputElement} */
    const input = field[`winding-${i + 1}`];
    return { pair, input, says: part(form, `#${input.id}-says`) };
  });

  function recall() {
    const { at: tC, readings = {} } = kept.of("windings");
    rows.forEach(({ pair, input }) => { input.value = readings[pair] || ""; });
    if (tC !== undefined) at.show(Number(tC));
  }

  function typed() {
    /** @type {Object<string, string>} */
    const readings = {};
    rows.forEach(({ pair, input }) => {
      const reading = input.value.trim();
      if (reading) readings[pair] = reading;
    });
    let tC;
    try { tC = String(at.read()); } catch (unreadable) { /* said by look */ }
    kept.keep("windings", Object.keys(readings).length ? { at: tC, readings } : null);
    look();
  }

  function look() {
    [answer, more, ...rows.map(({ says }) => says)].forEach((place) => place.replaceChildren());
    accept(atInput, answer);
    rows.forEach(({ input, says }) => accept(input, says));
    clear.hidden = !rows.some(({ input }) => input.value.trim());
    const { meter } = toolsOf({ meter: meterChoice.value });
    if (meter) show({ ...questionTyped(), meter });
  }

  function questionTyped() {
    /** @type {Array<[string, string]>} */
    const readings = rows.map(({ pair, input }) => [pair, input.value]);
    return { part: facts, readings, at: atInput.value, unit: unit.now(), kit: kit() };
  }

  /** @param {import("../answers/winding.js").WindingQuestion} question */
  function show(question) {
    windingRefusals(question).forEach(({ statement: why, field: pair }) => {
      rows.filter((row) => row.pair === pair)
        .forEach(({ input, says }) => refuse(says, sentence(why), input));
    });
    try {
      const found = answerWindings(question);
      answer.replaceChildren(...verdict(found));
      more.replaceChildren(table(found), notes(found));
    } catch (refused) {
      if (!(refused instanceof Refusal)) throw refused;
      const why = sentence(refused.statement, { unit: unit.now() });
      if (refused.missing) answer.textContent = why;
      else if (refused.field === "at") refuse(answer, why, atInput);
    }
  }

  recall();
  [atInput, ...rows.map(({ input }) => input)].forEach((input) =>
    input.addEventListener("input", typed));
  meterChoice.addEventListener("change", look);
  clear.addEventListener("click", () => {
    rows.forEach(({ input }) => { input.value = ""; });
    typed();
    rows[0].input.focus();
  });
  openForm(form);
  look();
}

/** @param {WindingAnswer} found @returns {HTMLElement[]} the verdict, and what follows */
function verdict(found) {
  const voice = { unit: found.unit };
  const headline = sentence(found.headline, voice);
  const ways = found.better.map(({ name }) => name);
  const advice = (ways.length ? [statement("winding.take", { ways })] : []).concat(found.advice);
  return [
    found.state ? verdictBox(found.state, headline) : el("p", null, headline),
    el("p", null, advice.map((step) => sentence(step, voice)).join(" ")),
  ];
}

/** @param {WindingAnswer} found @returns {HTMLElement} what it was held against, and how */
function notes({ unit: shownUnit, read, notes: held }) {
  const sentences = [read, ...held].map((note) => sentence(note, { unit: shownUnit }));
  return el("p", "ohm-hint", sentences.join(" "));
}

/** @param {?number} offShare @param {?number} uncertaintyShare */
function departure(offShare, uncertaintyShare) {
  if (offShare === null || uncertaintyShare === null) return "";
  return `${formatDeparture(offShare)} ± ${formatPercent(uncertaintyShare)}`;
}

/** @param {WindingAnswer} found @returns {HTMLElement} columns that hold nothing left out */
function table({ pairs, balances }) {
  const columns = ["read", "at-20", "off-mean", "off-entry"];
  const lines = Object.keys(pairs).map((pair) => {
    const { rOhm, digitOhm, at20Ohm, offShare, uncertaintyShare } = pairs[pair];
    const held = balances.map(({ windings }) => windings[pair]).find(Boolean);
    return { pair, cells: [
      formatOhmTo(rOhm, digitOhm),
      at20Ohm === null ? "" : formatOhmTo(at20Ohm, digitOhm),
      held ? departure(held.offShare, held.uncertaintyShare) : "",
      departure(offShare, uncertaintyShare),
    ] };
  });
  const kept = columns.map((_, i) => i).filter((i) => lines.some(({ cells }) => cells[i]));
  const name = (/** @type {string} */ column) => capital(nameOf("winding-column", column));
  const head = el("tr", null, heading("col", name("leads")),
    ...kept.map((i) => heading("col", name(columns[i]))));
  const body = el("tbody", null, ...lines.map(({ pair, cells }) =>
    el("tr", null, heading("row", pair), ...kept.map((i) => el("td", null, cells[i])))));
  const caption = name("caption");
  return scrolling(caption, el("table", "ohm-table", el("caption", null, caption),
    el("thead", null, head), body));
}

const form = formOf("winding");
if (form) windingForm(form, JSON.parse(form.dataset.facts || "{}"));
