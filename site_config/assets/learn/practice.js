// The practice machine's page: choose, work, name the fault, and see what should have been told.

import { kit, teamShortOhm } from "../page/team.js";
import { Grid } from "../numbers/grid.js";
import { MOST_SEED } from "../numbers/seeded.js";
import { button, el, link, part } from "../page/element.js";
import { formatT } from "../numbers/rounding.js";
import { capital, inWords } from "../words/phrase.js";
import {
  askActions, fetchActions, machineState, safetyActions, suspectGroups,
} from "./practice-actions.js";
import { MEND_MIN, codeOf, isRight, isSafe, kindsToName, newJob, spend } from "./practice-job.js";
import { labelOf, machineWords, suspectWords } from "./practice-words.js";
import { STEP_MINUTES } from "../answers/practice-safety.js";
import { resultOf } from "./practice-result.js";
import { keepUnderWay, underWay } from "./resumed.js";

/** @typedef {import("./practice-job.js").Job} Job */
/** @typedef {import("./practice-actions.js").Action} Action */

const SCREENS = ["known", "next", "line"];
const KEPT = "ohm.practice-job";
const lead = part(document, ".ohm-lead");
const place = part(document, "[data-practice]");
const root = place.dataset.root || "";
const says = el("p", "ohm-hidden");
says.setAttribute("role", "status");
/** What changes from screen to screen; what speaks stays where it is. */
const stage = el("div");
/** Which group of Next stands open, by its title. */
let opened = "";
let screen = "next";

/** @returns {import("./practice-job.js").Bench} */
function bench() {
  /** @type {Object<string, Grid>} */
  const curves = {};
  const compiled = OhmCurves || {};
  Object.keys(compiled).sort().forEach((id) => { curves[id] = new Grid(compiled[id], id); });
  const { meters, thermometers } = kit();
  return { curves, meters: byId(meters), thermometers: byId(thermometers),
    testers: OhmPractice.testers, shortOhm: teamShortOhm() || 10 };
}

/** @param {Array<{id: string}>} tools @returns {Object<string, *>} */
function byId(tools) {
  /** @type {Object<string, *>} */
  const found = {};
  tools.forEach((tool) => { found[tool.id] = tool; });
  return found;
}

/** @param {Object<string, Grid>} curves @returns {import("../answers/practice-draw.js").PracticeMachine[]} */
function machines(curves) {
  OhmPractice.machines.forEach(({ sensors }) => Object.keys(sensors).forEach((id) => {
    const { facts } = sensors[id];
    facts.curve = curves[facts.curveId];
  }));
  return OhmPractice.machines;
}

/** @returns {number} the seed in the address, or one that nobody chose */
function seedAsked() {
  const found = /(?:^|[#&])job=(\d{1,5})(?:&|$)/.exec(location.hash);
  return found ? Number(found[1]) : Math.floor(Math.random() * (MOST_SEED + 1));
}

/** @param {...Node} inner */
function show(...inner) {
  stage.textContent = "";
  stage.append(...inner);
}

/** @param {string} id @param {string} words @param {HTMLElement} field */
function labelled(id, words, field) {
  field.id = id;
  const label = el("label", null, words);
  label.htmlFor = id;
  return el("div", "ohm-field", label, field);
}

/** @param {Array<[string, string]>} choices value and words */
function choice(choices) {
  return el("select", null, ...choices.map(([value, words]) => {
    const option = el("option", null, words);
    option.value = value;
    return option;
  }));
}

/** @param {string} words */
function ticked(words) {
  const box = el("input");
  box.type = "checkbox";
  return { box, label: el("label", "ohm-practice-tick", box, el("span", null, words)) };
}

/** The first screen: which job, and what is taken up to it.
 * @param {number} seed */
function begin(seed) {
  const tools = bench();
  const number = el("input");
  number.inputMode = "numeric";
  number.value = String(seed);
  const meter = choice(Object.keys(tools.meters).map((id) => [id, tools.meters[id].name]));
  const probe = choice(Object.keys(tools.thermometers).map((id) => [id, tools.thermometers[id].name]));
  const earth = choice([["", inWords("practice.none")],
    ...Object.keys(tools.testers).map((id) =>
      /** @type {[string, string]} */ ([id, tools.testers[id].name]))]);
  const dead = ticked(OhmPractice.tester || inWords("practice.voltage-tester"));
  // Nobody goes to a machine without one: who leaves it in the van says so.
  dead.box.checked = true;
  const form = el("form", "ohm-calc",
    el("h2", null, inWords("practice.choose")),
    el("p", null, inWords("practice.choose-why")),
    labelled("practice-meter", inWords("practice.meter"), meter),
    labelled("practice-probe", inWords("practice.thermometer"), probe),
    labelled("practice-earth", inWords("practice.earth-tester"), earth),
    dead.label,
    labelled("practice-seed", inWords("practice.seed"), number),
    el("p", "ohm-hint", inWords("practice.seed-why")));
  const go = el("button", "ohm-practice-main", inWords("practice.start"));
  form.append(go);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const typed = /^\s*(\d{1,5})\s*$/.exec(number.value);
    const chosen = typed ? Number(typed[1]) : seed;
    location.hash = `job=${chosen}`;
    opened = "";
    screen = "known";
    work(newJob(chosen, { machines: machines(tools.curves), bench: tools, tools: {
      meter: meter.value, thermometer: probe.value, tester: earth.value, dead: dead.box.checked,
    } }));
    part(place, "[data-panel=known] h2").focus();
  });
  lead.hidden = false;
  show(form);
}

/** Who looked at the page of the code, comes back to the same job.
 * @param {number} seed @returns {boolean} whether one went on */
function resume(seed) {
  const kept = underWay(KEPT);
  if (!kept || kept.seed !== seed) return false;
  const tools = bench();
  screen = kept.screen;
  work(Object.assign(newJob(seed, { machines: machines(tools.curves), bench: tools, tools: kept.job.tools }),
    kept.job));
  return true;
}

/** @param {Job} job */
function keep(job) {
  const { hidden, machine: _machine, bench: _bench, ...rest } = job;
  keepUnderWay(KEPT, job.over ? null : { seed: hidden.seed, screen, job: rest });
}

/** @param {Job} job @param {boolean} [acted] something was done: what came of it takes the focus */
function work(job, acted = false) {
  lead.hidden = true;
  keep(job);
  if (job.over) {
    show(resultOf(job, { root, again: begin }));
    part(place, "h2").focus();
    return;
  }
  const panels = { known: known(job), next: next(job), line: timeLine(job) };
  const board = el("div", "ohm-practice-board", panels.known, panels.next, panels.line);
  /** @type {HTMLButtonElement[]} */
  const keys = SCREENS.map((name) => button(inWords(`practice.screen-${name}`), () => turn(name)));
  const turn = (/** @type {string} */ name) => {
    screen = name;
    keep(job);
    board.dataset.screen = name;
    keys.forEach((key, i) => key.setAttribute("aria-pressed", String(SCREENS[i] === name)));
  };
  turn(screen);
  show(stand(job), el("div", "ohm-practice-keys", ...keys), board);
  if (!acted) return;
  // What was seen is read with the focus: beside it is told how it stands, no more.
  says.textContent = stand(job).textContent;
  part(place, job.named < 0 ? ".ohm-practice-news" : "[data-panel=next] > h2").focus();
}

/** @param {Job} job @returns {HTMLElement} minutes, and whether hands may go in */
function stand(job) {
  const state = machineState(job);
  const line = el("p", "ohm-practice-stand", el("strong", null,
    inWords("practice.minutes", { minutes: job.minutes })), " ", inWords(`practice.state-${state}`));
  line.dataset.state = state;
  return line;
}

/** @param {string} name @param {string} title @param {...(Node|null)} inner */
function panel(name, title, ...inner) {
  const head = el("h2", null, title);
  head.tabIndex = -1;
  const made = el("section", "ohm-practice-panel", head, ...inner);
  made.dataset.panel = name;
  return made;
}

/** @param {Job} job what the call gave, and what was seen since */
function known(job) {
  const words = machineWords(job);
  const code = words.codes[codeOf(job).id];
  /** @type {Array<[string, Node|string]>} */
  const rows = [
    [inWords("practice.machine"), link(words.name, root + words.href)],
    ...code.shown.map((/** @type {[string, string]} */ [where, shown]) =>
      /** @type {[string, Node|string]} */ ([where || inWords("practice.code"), shown])),
    [inWords("practice.complaint"), inWords(`practice.stops-${code.stops.replace(/ /g, "-")}`)],
    [inWords("practice.air"), formatT(job.hidden.airC, "C", 0)],
  ];
  const seen = job.lines.filter((line) => line.seen || line.act === "prove");
  return panel("known", inWords("practice.screen-known"),
    el("dl", "ohm-facts", ...rows.map(([name, value]) =>
      el("div", null, el("dt", null, name), el("dd", null, value)))),
    el("p", "ohm-learn-ways", link(inWords("practice.code-page"), root + code.href),
      link(inWords("practice.family-page"), root + words.href)),
    seen.length ? el("h3", null, inWords("practice.seen")) : null,
    seen.length ? el("ul", null, ...seen.map((line) => el("li", null, line.words))) : null);
}

/** @param {Job} job */
function timeLine(job) {
  return panel("line", inWords("practice.screen-line"),
    el("p", "ohm-hint", inWords("practice.no-undo")),
    job.lines.length ? el("ol", "ohm-practice-lines", ...job.lines.map((line) =>
      el("li", null, el("span", "ohm-practice-at", inWords("practice.at", { minutes: line.at })),
        ` ${line.words}`))) : el("p", null, inWords("practice.nothing-yet")));
}

/** @param {Job} job @param {Action} action */
function key(job, action) {
  const made = button("", () => {
    action.run();
    // What was made safe is done with: what to check comes up.
    if (job.done.indexOf("prove") >= 0 && opened === inWords("practice.make-safe")) opened = "";
    work(job, true);
  }, "ohm-practice-key");
  made.append(el("span", null, action.words), " ",
    el("span", "ohm-practice-cost", inWords("practice.cost", { minutes: action.minutes })));
  return made;
}

/** @param {Job} job @param {string} title @param {Action[]} actions @param {...(Node|null)} above */
function fold(job, title, actions, ...above) {
  const made = el("details", "ohm-practice-fold", el("summary", null, title), ...above,
    ...actions.map((action) => key(job, action)));
  made.open = opened === title;
  made.addEventListener("toggle", () => { if (made.open) opened = title; });
  return made;
}

/** @param {string[]} cautions from the notes */
function mind(cautions) {
  if (!cautions.length) return null;
  const list = el("ul", null, ...cautions.map((words) => el("li", null, words)));
  return el("details", "ohm-caution ohm-caution-line",
    el("summary", null, inWords("practice.mind")), list);
}

/** @param {Job} job */
function next(job) {
  if (job.named >= 0) return mend(job);
  const last = job.lines[job.lines.length - 1];
  const news = last ? el("p", "ohm-practice-news", last.words) : null;
  if (news) news.tabIndex = -1;
  const asks = askActions(job);
  const words = machineWords(job);
  return panel("next", inWords("practice.screen-next"), news,
    fold(job, inWords("practice.make-safe"), safetyActions(job), mind(words.cautions)),
    asks.length ? fold(job, inWords("practice.ask-machine"), asks) : null,
    el("h3", null, inWords("practice.check")),
    ...suspectGroups(job).map((group) => fold(job, group.title, group.actions,
      group.look ? el("p", null, group.look) : null, mind(group.cautions),
      group.actions.length ? null : el("p", null, inWords("practice.needs-power")))),
    el("h3", null, inWords("practice.then")),
    fold(job, inWords("practice.name-fault"), [], naming(job)),
    fold(job, inWords("practice.van"), fetchActions(job)),
    button(inWords("practice.give-up"), () => { job.over = "shown"; work(job); }, "ohm-practice-quiet"));
}

/** @param {Job} job @returns {HTMLElement} which suspect, and what of it */
function naming(job) {
  /** @type {HTMLElement[]} */
  const keys = [];
  codeOf(job).suspects.map((_, i) => i)
    .sort((a, b) => (suspectWords(job, a).name < suspectWords(job, b).name ? -1 : 1))
    .forEach((suspect) => {
      const kinds = kindsToName(job, suspect);
      (kinds.length ? kinds : [""]).forEach((kind) => {
        const { name } = suspectWords(job, suspect);
        const words = kind ? inWords(`practice.named-${kind}`, { what: name }) : name;
        keys.push(button(capital(words), () => {
          job.named = suspect;
          job.kind = kind;
          spend(job, { act: "name", minutes: 0, suspect, words: inWords("practice.named", { what: words }) });
          screen = "next";
          work(job, true);
        }, "ohm-practice-key"));
      });
    });
  return el("div", null, el("p", null, inWords("practice.name-why")), ...keys);
}

/** Put it right, tick what goes back, switch on and see.
 * @param {Job} job */
function mend(job) {
  const { name } = suspectWords(job, job.named);
  const row = codeOf(job).suspects[job.named];
  const own = row.part ? machineWords(job).parts[row.part] : null;
  const refit = own && own.refit.length ? own.refit : plugsOf(job, row.sensor || codeOf(job).sensor);
  const minutes = own && own.labour ? own.labour : MEND_MIN;
  /** @type {Array<ReturnType<typeof ticked>>} */
  const boxes = refit.map((/** @type {string} */ words) => ticked(words));
  const hint = el("p", "ohm-hint");
  hint.setAttribute("role", "status");
  return panel("next", inWords("practice.mend", { what: name }),
    fold(job, inWords("practice.make-safe"), safetyActions(job).filter(({ words }) =>
      words !== inWords("practice.power")), mind(machineWords(job).cautions)),
    el("h3", null, inWords("practice.refit")),
    ...boxes.map(({ label }) => label), hint,
    button(inWords("practice.mended", { minutes: minutes + STEP_MINUTES.power }), () => {
      const left = boxes.filter(({ box }) => !box.checked).length;
      if (!isSafe(job)) {
        spend(job, { act: "hands", minutes: 0, words: inWords("practice.mend", { what: name }) });
        work(job);
      } else if (left) hint.textContent = inWords("practice.left-off", { left });
      else prove(job, name, minutes);
    }, "ohm-practice-main"));
}

/** @param {Job} job @param {string} sensor */
function plugsOf(job, sensor) {
  const found = sensor ? machineWords(job).sensors[sensor] : null;
  const plug = found && found.plug ? [inWords("practice.plug-home",
    { sensor: labelOf(job, sensor), plug: found.plug })] : [];
  return [...plug, inWords("practice.covers")];
}

/** @param {Job} job @param {string} name @param {number} minutes */
function prove(job, name, minutes) {
  spend(job, { act: "mend", minutes, words: inWords("practice.mend", { what: name }) });
  job.done = [];
  const code = machineWords(job).codes[codeOf(job).id];
  const shown = code.shown[0][1];
  if (isRight(job)) {
    spend(job, { act: "power", minutes: STEP_MINUTES.power,
      words: inWords("practice.cleared", { code: shown, how: code.clear.join(" ") }) });
    job.over = "found";
  } else {
    job.wrong += 1;
    job.named = -1;
    spend(job, { act: "power", minutes: STEP_MINUTES.power,
      words: inWords("practice.back-again", { code: shown }) });
  }
  work(job, true);
}

place.append(says, stage);
place.hidden = false;
const asked = seedAsked();
if (!resume(asked)) begin(asked);
