// What the old part is set to, written down in the open job before it comes out.

import { statement } from "../answers/statement.js";
import { JOB_EVENT } from "../job/changed.js";
import { changeJob, currentJob, isOld, jobForWriting } from "../job/jobs.js";
import { capital, phrase } from "../words/phrase.js";
import { el } from "./element.js";
import { formOf, openForm } from "./fields.js";
import { markOf } from "./job-naming.js";
import { pageFamily } from "./page-family.js";

/** @param {HTMLFormElement} form */
function settings(form) {
  const { part = "" } = form.dataset;
  const says = el("p", "ohm-hint");
  const family = () => (pageFamily() || { id: "" }).id;
  const fields = Array.from(form.elements)
    .filter((field) => field instanceof HTMLInputElement || field instanceof HTMLSelectElement)
    .map((field) => /** @type {HTMLInputElement|HTMLSelectElement} */ (field));
  /** Whose job took what was typed last. */
  let whose = "";
  says.setAttribute("role", "status");
  /** @param {HTMLInputElement|HTMLSelectElement} field @returns {string} its place in the entry's list */
  const numberIn = ({ name }) => name.slice("setting-".length);

  /** @param {HTMLInputElement|HTMLSelectElement} field */
  function keep(field) {
    const value = field.value.trim();
    if (!value && !currentJob(family())) return;
    const { id } = jobForWriting(family());
    changeJob(id, (job) => {
      const written = job.settings[part] || {};
      if (value) written[numberIn(field)] = value;
      else delete written[numberIn(field)];
      job.settings[part] = written;
      if (!Object.keys(written).length) delete job.settings[part];
    });
    const job = currentJob(family());
    whose = job ? capital(phrase(statement("ticks.written", { mark: markOf(job) }))) : "";
    says.textContent = whose;
  }

  function show() {
    const job = currentJob(family());
    const written = (job && job.settings[part]) || {};
    const old = job !== null && isOld(job);
    // Nobody knows yet whether it is the same machine: the bar asks.
    says.textContent = old ? capital(phrase(statement("ticks.old"))) : whose;
    // What has to be said before anything can be typed stands above it.
    if (old) form.prepend(says);
    else form.append(says);
    fields.forEach((field) => {
      field.disabled = old;
      const value = written[numberIn(field)] || "";
      if (field.value.trim() !== value) field.value = value;
    });
  }

  form.addEventListener("input", ({ target }) => {
    const field = fields.find((own) => own === target);
    if (field) keep(field);
  });
  document.addEventListener(JOB_EVENT, show);
  show();
  openForm(form);
}

const form = formOf("settings");
if (form) settings(form);
