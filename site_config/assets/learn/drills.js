// The page of drills: a set of ten, what is due, how far somebody is, a sheet for who signs.

import { DRILL_KINDS } from "../answers/drill.js";
import { DrillPool, SET } from "../answers/drill-set.js";
import { gridOf } from "../numbers/grid.js";
import { MOST_SEED, Seeded } from "../numbers/seeded.js";
import { button, el, link, part } from "../page/element.js";
import { kit } from "../page/team.js";
import { verdictBox } from "../page/verdict-box.js";
import { capital, inWords, phrase, sentence } from "../words/phrase.js";
import { answering, voiceOf } from "./drill-answer.js";
import { kindName, progressOf, sheetOf } from "./drill-report.js";
import { keepUnderWay, underWay } from "./resumed.js";
import { addPractised, dueToday, practiceIsKept } from "./practised.js";

/**
 * @typedef {import("../answers/drill.js").Drill} Drill
 * @typedef {import("./drill-answer.js").Given} Given
 * seed: 0 for what is due, which no number makes again.
 * @typedef {{seed: number, kind: string, family: string, drills: Drill[]}} DrillSet
 */

const place = part(document, "[data-drills]");
const KEPT = "ohm.drill-set";
/** @type {Object<string, string>} */
const families = JSON.parse(place.dataset.families || "{}");
/** @type {Object<string, import("../numbers/grid.js").Grid>} */
const curves = {};
OhmDrills.sensors.forEach(({ curveId }) => {
  const curve = curveId ? gridOf(curveId) : null;
  if (curve) curves[curveId] = curve;
});
const pool = new DrillPool({ ...OhmDrills, ...kit(), curves });

/** @param {string} title @param {...HTMLElement} inner */
function fill(title, ...inner) {
  const head = el("h2", null, title);
  head.tabIndex = -1;
  place.replaceChildren(head, ...inner);
  // A new screen is seen from its top: the next question stands there, not under the frame.
  window.scrollTo(0, 0);
  return head;
}

/** @param {string} words @param {string} hash */
const way = (words, hash) => link(words, `#${hash}`);

const newSeed = () => 1 + Math.floor(Math.random() * MOST_SEED);

/** @param {{seed: number, kind: string, family: string}} set @returns {string} what its address ends in */
function hashOf({ seed, kind, family }) {
  return `seed=${seed}${kind ? `&kind=${kind}` : ""}${family ? `&of=families/${family}` : ""}`;
}

/** @param {string} label @param {string} id @param {Array<[string, string]>} options */
function selectField(label, id, options) {
  const select = el("select");
  select.id = id;
  options.forEach(([value, words]) => {
    const option = el("option", null, words);
    option.value = value;
    select.append(option);
  });
  const name = el("label", null, label);
  name.htmlFor = id;
  return { select, field: el("div", "ohm-field", name, select) };
}

function showStart() {
  const form = el("form", "ohm-calc");
  const machine = selectField(inWords("drills.machines"), "drill-family",
    [["", inWords("drills.all-families")],
      ...Object.keys(families).map((id) => /** @type {[string, string]} */ ([id, families[id]]))]);
  const kind = selectField(inWords("drills.what"), "drill-kind", []);
  function offer() {
    const kinds = pool.kinds(machine.select.value);
    kind.select.replaceChildren(...["", ...kinds].map((name) => {
      const option = el("option", null, name ? kindName(name) : inWords("drills.all-kinds"));
      option.value = name;
      return option;
    }));
  }
  offer();
  machine.select.addEventListener("change", offer);
  const seed = el("input");
  seed.id = "drill-seed";
  seed.inputMode = "numeric";
  seed.maxLength = 5;
  seed.value = String(newSeed());
  const label = el("label", null, inWords("drills.seed"));
  label.htmlFor = seed.id;
  const go = () => {
    keepUnderWay(KEPT, null);
    const typed = Number(seed.value.replace(/\D/g, "")) || newSeed();
    location.hash = hashOf({
      seed: Math.min(typed, MOST_SEED), kind: kind.select.value, family: machine.select.value,
    });
  };
  form.addEventListener("submit", (event) => { event.preventDefault(); go(); });
  form.append(machine.field, kind.field,
    el("div", "ohm-field", label, seed, el("p", "ohm-hint", inWords("drills.seed-hint"))),
    el("div", "ohm-keys", el("button", "ohm-primary", inWords("drills.start"))));
  const due = dueDrills().length;
  fill(inWords("drills.choose"), form,
    el("div", "ohm-jumps", due ? way(inWords("drills.due-now", { count: due }), "due") : null,
      way(inWords("drills.progress"), "progress"), way(inWords("drills.sheet"), "sheet"),
      link(kindName("machine"), "practice.html")),
    ...(practiceIsKept() ? [] : [el("p", "ohm-hint", inWords("drills.not-kept"))]));
}

/** @returns {Array<{kind: string, subject: any}>} what is due and still in the notes */
function dueDrills() {
  return dueToday().map((key) => {
    const [kind, about] = key.split(" ");
    const found = DRILL_KINDS.includes(kind)
      ? pool.about(kind).find(({ id }) => id === about.slice(about.indexOf("/") + 1)) : null;
    return { kind, subject: found };
  }).filter(({ subject }) => subject);
}

/** @param {DrillSet} set @param {number} at @param {Array<Given & {drill: Drill}>} given */
function showDrill(set, at, given) {
  const drill = set.drills[at];
  const after = el("div", "ohm-drill-after");
  after.setAttribute("role", "status");
  const answer = answering(drill, curves[drill.curveId] || null, (result) => {
    answer.ended();
    given.push({ ...result, drill });
    if (set.seed) keepUnderWay(KEPT, { hash: hashOf(set), given: given.map(withoutDrill) });
    addPractised({
      time: new Date().toISOString(), kind: drill.kind, family: drill.family, about: drill.about,
      seed: set.seed, place: at + 1, right: result.mark.right, minutes: 0,
    });
    after.append(...working(drill, result));
    const last = at + 1 === set.drills.length;
    const next = button(last ? inWords("drills.result") : inWords("drills.next"), () => {
      if (last) showResult(set, given); else showDrill(set, at + 1, given);
    }, "ohm-primary");
    after.append(el("div", "ohm-keys", next));
    next.focus({ preventScroll: true });
    after.scrollIntoView({ block: "nearest" });
  });
  const [family, where] = [families[drill.family] || "", { at: at + 1, count: set.drills.length }];
  const goesBy = drill.given.map((words) => el("p", null, sentence(words, voiceOf(drill))));
  const head = fill(sentence(drill.ask, voiceOf(drill)), ...goesBy, answer.element, after);
  head.before(el("p", "ohm-drill-where", el("strong", null, inWords("drills.where", where)), seedWords(set),
    el("span", null, [kindName(drill.kind), family].filter(Boolean).join(" · "))));
  if (given.length) head.focus({ preventScroll: true });
}

/** @param {Given} answered */
const withoutDrill = ({ mark: { right }, given }) => ({ right, given });

/** Who looked at a page of the notes comes back to the next question, or to the result.
 * @param {DrillSet} set */
function goOn(set) {
  const kept = set.seed ? underWay(KEPT) : null;
  /** @type {Array<{right: boolean, given: string}>} */
  const answers = kept && kept.hash === hashOf(set) ? kept.given : [];
  const given = answers.map((answer, i) => ({
    mark: { right: answer.right, offK: null, words: { id: "drill.right", figures: {} } },
    given: answer.given, drill: set.drills[i],
  }));
  if (given.length < set.drills.length) showDrill(set, given.length, given); else showResult(set, given);
}

/** @param {DrillSet} set */
const seedWords = ({ seed }) => (seed ? inWords("drills.set", { seed }) : inWords("drills.repeats"));

/** @param {Drill} drill @param {Given} result @returns {HTMLElement[]} the mark, why, where it stands */
function working(drill, { mark, given }) {
  const word = mark.right ? inWords("drills.mark-right") : inWords("drills.mark-wrong");
  // What says no more than the word beside it, is left to that.
  const plain = ["drill.right", "drill.wrong"].includes(mark.words.id);
  const why = plain ? inWords("drills.given", { answer: given }) : sentence(mark.words, voiceOf(drill));
  return [verdictBox(mark.right ? "within" : "outside", why, word), ...explained(drill, mark.right)];
}

/** @param {Drill} drill @param {boolean} known whether the right one needs no word
 * @returns {HTMLElement[]} */
function explained(drill, known) {
  const voice = voiceOf(drill);
  const right = drill.right.map((choice) => capital(phrase(drill.choices[choice], voice)));
  return [
    ...(right.length && !known
      ? (drill.form === "order" ? [el("p", null, el("strong", null, inWords("drills.right-order"))),
        el("ol", null, ...right.map((words) => el("li", null, words)))]
        : [el("p", null, el("strong", null, inWords("drills.right-is", { answer: right[0] })))]) : []),
    el("p", null, drill.because.map((reason) => sentence(reason, voice)).join(" ")),
    el("p", null, link(inWords("drills.its-page"), `${drill.about}.html`)),
  ];
}

/** @param {DrillSet} set @param {Array<Given & {drill: Drill}>} given */
function showResult(set, given) {
  const wrong = given.filter(({ mark }) => !mark.right);
  const head = fill(
    inWords("drills.score", { right: given.length - wrong.length, count: given.length }),
    el("p", null, seedWords(set)),
    el("ol", "ohm-drill-wrong", ...wrong.map((row) => el("li", null,
      el("h3", null, sentence(row.drill.ask, voiceOf(row.drill))),
      el("p", "ohm-hint", inWords("drills.given", { answer: row.given })),
      ...explained(row.drill, false)))),
    el("div", "ohm-keys",
      button(inWords("drills.other-ten"), () => {
        location.hash = hashOf({ ...set, seed: newSeed() });
      }, "ohm-primary"),
      button(inWords("drills.choose-again"), () => { location.hash = ""; })),
    el("div", "ohm-jumps", way(inWords("drills.progress"), "progress"),
      way(inWords("drills.sheet"), "sheet")));
  head.focus({ preventScroll: true });
}

/** @param {HTMLElement[]} inner @param {string} title */
function showReport(title, inner) {
  place.classList.toggle("ohm-drill-sheet", true);
  fill(title, ...inner, el("div", "ohm-jumps", way(inWords("drills.choose-again"), "")));
}

/** @returns {?DrillSet} the set that the address names */
function setOfAddress() {
  if (location.hash === "#due") {
    const drills = dueDrills().slice(0, SET).map(({ kind, subject }) =>
      pool.drill(subject, kind, new Seeded(newSeed())));
    return drills.length ? { seed: 0, kind: "", family: "", drills } : null;
  }
  const named = new URLSearchParams(location.hash.slice(1));
  const seed = Number(named.get("seed"));
  if (!(Number.isInteger(seed) && seed > 0 && seed <= MOST_SEED)) return null;
  const [kind, family] = [named.get("kind") || "", (named.get("of") || "").replace("families/", "")];
  const known = {
    seed, kind: DRILL_KINDS.includes(kind) ? kind : "", family: family in families ? family : "",
  };
  const drills = pool.drills(known);
  return drills.length ? { ...known, drills } : null;
}

function show() {
  part(document, ".ohm-lead").hidden = location.hash.length > 1;
  place.classList.toggle("ohm-drill-sheet", false);
  const release = globalThis.Ohm && Ohm.release;
  if (location.hash === "#progress") showReport(inWords("drills.progress"), progressOf(families, show));
  else if (location.hash === "#sheet") {
    const team = document.querySelector(".ohm-team");
    showReport(inWords("drills.sheet"), sheetOf(families, {
      team: team ? team.textContent || "" : "", release: release ? String(release.number) : "–",
    }));
  } else {
    const set = setOfAddress();
    if (set) goOn(set); else showStart();
  }
}

window.addEventListener("hashchange", show);
place.hidden = false;
show();
