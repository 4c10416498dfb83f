// The fields of the job page, kept with the open job as they are typed; typing begins one.

import { remember, remembered } from "../look.js";
import { addCode, changeJob, currentJob, jobForWriting } from "../job/jobs.js";
import { el, part } from "./element.js";
import { fieldsOf } from "./fields.js";
import { codeIn } from "./job-case.js";
import { causesToChoose } from "./job-family.js";

/** @typedef {import("../job/jobs.js").Job} Job */
/** @typedef {import("./job-family.js").JobFamily} JobFamily */
/** @typedef {HTMLInputElement|HTMLTextAreaElement|HTMLSelectElement} Field */

/** What is of the machine itself, and what is said of the job in words. */
const OF_MACHINE = ["mark", "plate"];
const IN_WORDS = ["found", "cause", "cause-words", "cure", "refrigerant", "minutes", "by", "learnt"];
/** The engineer's own: it is not of one job, and every one begins with it. */
const BY = "ohm.by";

/** @param {HTMLFormElement} form @param {{familyId: string, family: JobFamily}} about
 * @returns {{show: function(Job): void}} show what another page, or another job, says now */
export function jobFields(form, { familyId, family }) {
  /** @type {Object<string, Field>} */
  const field = fieldsOf(form);
  let causesFor = "?";

  /** @param {string} code */
  function offerCauses(code) {
    if (causesFor === code) return;
    causesFor = code;
    field.cause.replaceChildren(...causesToChoose(family, family.codes[code]).map(({ value, words }) => {
      const option = el("option", null, words);
      option.value = value;
      return option;
    }));
  }

  /** @param {Field} input @param {string} value what is being typed stays as it is typed */
  function put(input, value) {
    if (input.value.trim() !== value.trim()) input.value = value;
  }

  /** @param {Job} job */
  function show(job) {
    const code = codeIn(job, family);
    offerCauses(code);
    put(field.code, code);
    put(field.mark, job.mark);
    put(field.plate, job.plate);
    IN_WORDS.forEach((name) => {
      put(field[name], job.words[name] || (name === "by" ? remembered(BY) || "" : ""));
    });
    part(form, '[data-field="cause-words"]').hidden = field.cause.value !== "words";
  }

  function chooseCode() {
    const code = field.code.value;
    if (code) addCode(familyId, { code, shown: family.codes[code].shown.split(",")[0] });
    else if (currentJob(familyId)) changeJob(jobForWriting(familyId).id, (job) => { job.codes = []; });
  }

  /** @param {string} name */
  function keep(name) {
    const value = field[name].value;
    if (!value.trim() && !currentJob(familyId)) return;
    if (name === "by") remember(BY, value.trim() || null);
    const by = field.by.value.trim();
    changeJob(jobForWriting(familyId).id, (job) => {
      if (name === "mark") job.mark = value.trim();
      else if (name === "plate") job.plate = value.trim();
      else if (value) job.words[name] = value;
      else delete job.words[name];
      if (by) job.words.by = by;
    });
  }

  form.addEventListener("input", ({ target }) => {
    if (target === field.code) chooseCode();
    const named = [...OF_MACHINE, ...IN_WORDS].find((name) => field[name] === target);
    if (named) keep(named);
  });
  return { show };
}
