// Which families a page is about: the bar of jobs names them, each with the way to its job page.

import { adoptJobs, currentAmong } from "../job/jobs.js";
import { parts } from "./element.js";

/** was: former ids; href: of its job page
 * @typedef {{id: string, was?: string, name: string, href: string}} PageFamily */

// Read once: the bar is written anew whenever a job changes.
const FAMILIES = parts(document, "[data-ohm-job-of]").map((way) => ({
  id: way.dataset.ohmJobOf || "",
  was: way.dataset.was,
  name: (way.textContent || "").trim(),
  href: way.getAttribute("href") || "",
}));

FAMILIES.forEach(({ id, was }) => { if (was) adoptJobs(id, was); });

/** @returns {PageFamily[]} */
export function pageFamilies() { return FAMILIES; }

/** @returns {?PageFamily} the one whose job was touched last among several, else the first */
export function pageFamily() {
  const job = currentAmong(FAMILIES.map(({ id }) => id));
  return FAMILIES.find(({ id }) => job !== null && id === job.family) || FAMILIES[0] || null;
}
