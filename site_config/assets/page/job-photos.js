// The photos of a job: taken, named, chosen for the case, taken out. They stay on this phone.

import { changeJob, jobForWriting, timeNow } from "../job/jobs.js";
import { forgetPhoto, keepPhoto, photoBytes } from "../job/photos.js";
import { statement } from "../answers/statement.js";
import { nameOf, phrase } from "../words/phrase.js";
import { clockTime } from "./clock.js";
import { button, el, part, parts } from "./element.js";
import { jobLine } from "./job-text.js";
import { shrunkPhoto } from "./shrunk-photo.js";

/** @typedef {import("../job/jobs.js").Job} Job */
/** @typedef {import("../job/jobs.js").Photo} Photo */
/** @typedef {{src: string, words: string}} Picture src: a data address */

/** @param {HTMLFormElement} form @param {string} familyId
 * @returns {{show: function(Job): void, pictures: function(): Picture[],
 *   changed: function(function(): void): void}} pictures: those chosen, ready to be shown */
export function jobPhotos(form, familyId) {
  const place = part(form, ".ohm-job-photos");
  const says = part(form, ".ohm-photo-says");
  /** What is shown now, by photo.
   * @type {Map<string, HTMLElement>} */
  const rows = new Map();
  /** @type {Map<string, string>} */
  const sources = new Map();
  /** @type {Picture[]} */
  let chosen = [];
  /** @type {function(): void} */
  let drawAgain = () => { /* nobody asked yet */ };

  /** @param {HTMLInputElement} input */
  async function take(input) {
    const files = Array.from(input.files || []);
    input.value = "";
    for (let i = 0; i < files.length; i++) await add(files[i]);
  }

  /** @param {File} file */
  async function add(file) {
    says.textContent = jobLine("photo-shrinking");
    try {
      const bytes = await shrunkPhoto(file);
      const { id: job } = jobForWriting(familyId);
      const id = Date.now().toString(36) + Math.floor(Math.random() * 1e6).toString(36);
      const kept = await keepPhoto(job, id, bytes);
      changeJob(job, ({ photos }) => { photos.push({ id, time: timeNow(), words: "", chosen: true }); });
      says.textContent = jobLine(kept ? "photo-kept" : "photo-not-kept");
    } catch (unreadable) {
      says.textContent = jobLine("photo-unreadable");
    }
  }

  /** @param {string} job @param {Photo} photo @param {function(Photo): void} change */
  function changePhoto(job, photo, change) {
    changeJob(job, ({ photos }) => { photos.filter(({ id }) => id === photo.id).forEach(change); });
  }

  /** @param {Job} job @param {Photo} photo @returns {HTMLElement} */
  function row(job, photo) {
    const image = el("img");
    const words = el("input");
    const use = el("input");
    const taken = phrase(statement("job.photo-of", { time: clockTime(photo.time) }));
    image.alt = photo.words || taken;
    words.type = "text";
    words.id = `photo-${photo.id}`;
    words.maxLength = 120;
    words.value = photo.words;
    words.addEventListener("input", () => {
      changePhoto(job.id, photo, (kept) => { kept.words = words.value.trim(); });
    });
    use.type = "checkbox";
    use.id = `photo-use-${photo.id}`;
    use.checked = photo.chosen;
    use.addEventListener("change", () => {
      changePhoto(job.id, photo, (kept) => { kept.chosen = use.checked; });
    });
    const label = el("label", null, nameOf("job-photo", "words"));
    const useLabel = el("label", null, nameOf("job-photo", "use"));
    label.htmlFor = words.id;
    useLabel.htmlFor = use.id;
    photoBytes(job.id, photo.id).then((bytes) => { picture(image, photo, bytes); });
    return el("li", "ohm-job-photo", image, el("div", "ohm-field", label, words),
      el("div", "ohm-photo-use", use, useLabel),
      button(nameOf("job-photo", "remove"), () => remove(job, photo), "ohm-key"));
  }

  /** @param {HTMLImageElement} image @param {Photo} photo @param {?ArrayBuffer} bytes */
  function picture(image, photo, bytes) {
    if (!bytes) {
      image.replaceWith(el("p", "ohm-hint", jobLine("photo-lost")));
      return;
    }
    const reader = new FileReader();
    reader.onload = () => {
      image.src = String(reader.result);
      sources.set(photo.id, image.src);
      drawAgain();
    };
    reader.readAsDataURL(new Blob([bytes], { type: "image/jpeg" }));
  }

  /** @param {Job} job @param {Photo} photo */
  function remove(job, photo) {
    if (!confirm(jobLine("photo-forget"))) return;
    changeJob(job.id, (kept) => { kept.photos = kept.photos.filter(({ id }) => id !== photo.id); });
    forgetPhoto(job.id, photo.id);
  }

  parts(form, "input[type=file]").forEach((input) => {
    input.addEventListener("change", (event) => {
      // A file is no word of the job.
      event.stopPropagation();
      if (input instanceof HTMLInputElement) take(input);
    });
  });

  return {
    pictures: () => chosen,
    changed(then) { drawAgain = then; },
    show(job) {
      const there = new Set(job.photos.map(({ id }) => id));
      Array.from(rows.keys()).filter((id) => !there.has(id)).forEach((id) => {
        part(place, `[data-photo="${id}"]`).remove();
        rows.delete(id);
        sources.delete(id);
      });
      job.photos.filter(({ id }) => !rows.has(id)).forEach((photo) => {
        const made = row(job, photo);
        made.dataset.photo = photo.id;
        rows.set(photo.id, made);
        place.append(made);
      });
      chosen = job.photos.filter((photo) => photo.chosen && sources.has(photo.id))
        .map(({ id, words }) => ({
          src: sources.get(id) || "", words: words || nameOf("job-photo", "unnamed"),
        }));
    },
  };
}
