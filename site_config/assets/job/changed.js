// Say that a job changed, to whatever on the page shows one.

/** The event on the document. */
export const JOB_EVENT = "ohm:job";

/** Tell everyone on the page. */
export function aloud() {
  document.dispatchEvent(new CustomEvent(JOB_EVENT));
}
