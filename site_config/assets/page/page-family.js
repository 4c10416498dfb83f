// Which families a page is about: the bar of jobs names them, each with the way to its job page.

import { currentAmong } from "../job/jobs.js";
import { parts } from "./element.js";

/** @typedef {{id: string, name: string, href: string}} PageFamily href: of its job page */

// Read once: the bar is written anew whenever a job changes.
const FAMILIES = parts(document, "[data-ohm-job-of]").map((way) => ({
  id: way.dataset.ohmJobOf || "",
  name: (way.textContent || "").trim(),
  href: way.getAttribute("href") || "",
}));

/** @returns {PageFamily[]} */
export function pageFamilies() { return FAMILIES; }

/** @returns {?PageFamily} the one whose job was touched last among several, else the first */
export function pageFamily() {
  const job = currentAmong(FAMILIES.map(({ id }) => id));
  return FAMILIES.find(({ id }) => job !== null && id === job.family) || FAMILIES[0] || null;
}
