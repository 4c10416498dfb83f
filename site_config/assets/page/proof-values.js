// A field beside each thing that proves a repair: what was read there goes to the job.

import { statement } from "../answers/statement.js";
import { JOB_EVENT } from "../job/changed.js";
import { changeJob, currentJob, isOld, jobForWriting } from "../job/jobs.js";
import { nameOf, phrase } from "../words/phrase.js";
import { el, parts } from "./element.js";

/** @param {HTMLElement} list @param {string} part @param {function(): string} family */
export function proofValues(list, part, family) {
  const fields = parts(list, "li").map((row, i) => {
    const what = row.querySelector("strong");
    const input = el("input", "ohm-proof-value");
    input.type = "text";
    input.autocomplete = "off";
    input.maxLength = 120;
    input.placeholder = nameOf("ticks-label", "value");
    input.setAttribute("aria-label",
      phrase(statement("ticks.value-of", { what: ((what && what.textContent) || "").trim() })));
    input.addEventListener("input", () => { keep(String(i + 1), input.value.trim()); });
    row.append(input);
    return input;
  });

  /** @param {string} number of the proof @param {string} value */
  function keep(number, value) {
    if (!value && !currentJob(family())) return;
    changeJob(jobForWriting(family()).id, (job) => {
      const values = job.proofs[part] || {};
      if (value) values[number] = value;
      else delete values[number];
      job.proofs[part] = values;
      if (!Object.keys(values).length) delete job.proofs[part];
    });
  }

  function show() {
    const job = currentJob(family());
    const values = (job && job.proofs[part]) || {};
    // As for the ticks beside them: nobody knows yet whether it is the same machine.
    const old = job !== null && isOld(job);
    fields.forEach((input, i) => {
      input.disabled = old;
      const value = values[String(i + 1)] || "";
      // What is being typed stays as it is typed.
      if (input.value.trim() !== value) input.value = value;
    });
  }

  document.addEventListener(JOB_EVENT, show);
  show();
}
