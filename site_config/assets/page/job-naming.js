// What a job is called, in the bar, in its panel, at home and on the job page.

import { nameOf } from "../words/phrase.js";

/** @typedef {import("../job/jobs.js").Job} Job */

/** @param {Job} job @returns {string} the engineer's mark; where there is none, the plate */
export const markOf = ({ mark, plate }) => mark || plate || nameOf("bar-label", "no-mark");

/** @param {Job} job @returns {string} the code that it showed last, as it was shown */
export const newestShown = ({ codes }) => (codes.length ? codes[codes.length - 1].shown : "");
