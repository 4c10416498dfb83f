// How a job leaves the phone: copied, shared, printed, saved. A case with photos is a zip.

import { photoBytes } from "../job/photos.js";
import { zipOf } from "../job/zip.js";
import { nameOf } from "../words/phrase.js";
import { button, part } from "./element.js";
import { copyFrom, saveFile } from "./hand-out.js";
import { chosenPhotos, photoFile } from "./job-case.js";
import { jobLine } from "./job-text.js";

/** @typedef {import("../job/jobs.js").Job} Job */
/** @typedef {{job: function(): Job, text: function(): string, yaml: function(): string,
 *   id: function(): string}} HandedOver id: of the case */

/** @param {HTMLElement} outcome @param {HandedOver} job
 * @returns {{show: function(string): void, says: function(string): void}}
 *   show: what is missing for the notes, or nothing */
export function handOver(outcome, { job, text, yaml, id }) {
  const status = part(outcome, ".ohm-job-says");
  const says = (/** @type {string} */ words) => { status.textContent = words; };

  /** @param {string} place @param {string} name @param {function(): void} press */
  function key(place, name, press) {
    const made = button(nameOf("job-key", name), press, "ohm-key");
    part(outcome, place).append(made, " ");
    return made;
  }

  /** @param {HTMLElement} from */
  function copy(from) {
    copyFrom(from).then((copied) => { says(jobLine(copied ? "copied" : "marked")); });
  }

  /** @returns {Promise<File>} the case alone, or zipped with the photos that were chosen */
  async function caseFile() {
    const name = id();
    const now = job();
    const text8 = new TextEncoder().encode(yaml());
    const photos = chosenPhotos(now);
    if (!photos.length) return new File([text8], `${name}.yaml`, { type: "text/yaml" });
    const files = [{ name: `${name}.yaml`, bytes: text8 }];
    for (let i = 0; i < photos.length; i++) {
      const bytes = await photoBytes(now.id, photos[i].id);
      if (!bytes) throw new Error(photos[i].id);
      files.push({ name: photoFile(name, i + 1), bytes: new Uint8Array(bytes) });
    }
    return new File([zipOf(files)], `${name}.zip`, { type: "application/zip" });
  }

  /** @param {function(File): void} then */
  function withCase(then) {
    caseFile().then(then, () => { says(jobLine("photo-gone")); });
  }

  /** @param {File} content */
  function save(content) {
    saveFile(content);
    says(jobLine("saved", { file: content.name }));
  }

  /** @param {ShareData} shared */
  function share(shared) {
    navigator.share(shared).catch(() => { /* thought better of it */ });
  }

  const canShare = (/** @type {ShareData} */ shared) =>
    "canShare" in navigator && navigator.canShare(shared);

  key(".ohm-job-keys", "copy-text", () => copy(part(outcome, ".ohm-job-text")));
  if ("share" in navigator) key(".ohm-job-keys", "share", () => share({ text: text() }));
  key(".ohm-job-keys", "print", () => print());
  const forNotes = [
    key(".ohm-case-keys", "copy-case", () => copy(part(outcome, ".ohm-case-text"))),
    key(".ohm-case-keys", "save-case", () => withCase(save)),
  ];
  if (canShare({ files: [new File(["x"], "case.zip", { type: "application/zip" })] })) {
    forNotes.push(key(".ohm-case-keys", "share-case", () => withCase((file) => share({ files: [file] }))));
  }

  return {
    says,
    show(missing) {
      forNotes.forEach((made) => { made.disabled = missing !== ""; });
      part(outcome, ".ohm-case-missing").textContent = missing;
    },
  };
}
