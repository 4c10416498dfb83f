// Say how the sensors of one place stand together: who agrees, who disagrees, whose plugs to look at.
// Pure: it touches no page.

import { sayApart, sayT } from "./figures.js";
import { verdictWord } from "./verdict-box.js";

/** @typedef {import("../numbers/at-rest.js").Standing} Standing */
/** A verdict, why, and the word for it.
 * @typedef {{state: string, why: string, word: string}} Summary */

/** Below this a sensor is in the middle of the rest. */
const MIDDLE_K = 0.05;

/** @param {string} words */
export function capital(words) {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** @param {string[]} labels @returns {string} a, b and c */
export function listed(labels) {
  return labels.length < 2 ? labels.join("")
    : `${labels.slice(0, -1).join(", ")} and ${labels[labels.length - 1]}`;
}

/** @param {Standing|undefined} standing undefined where it is held against nobody
 * @param {{state: ?string, inIceWater: boolean}} of state: its own verdict, if it has one
 * @returns {string} how it stands among the rest; nothing where there is nothing to say */
export function standingWords(standing, { state, inIceWater }) {
  if (!standing) {
    return inIceWater ? "not held against the rest, it was in ice water"
      : "not held against the rest, it rests in a place of its own";
  }
  if (standing.offK === null) return "";
  if (Math.abs(standing.offK) < MIDDLE_K) return "in the middle of the rest";
  const away = `${sayApart(standing.offK)}${standing.offK > 0 ? " above" : " below"} the rest`;
  return standing.state === "stands-out" && state !== "stands-out" ? `${away}: it stands out` : away;
}

/**
 * Who disagrees with the rest, in one or two sentences.
 * @param {Array<{label: string, standing: Standing|undefined}>} all that rest in one place
 * @param {?number} centreC the middle of them
 * @returns {Summary}
 */
export function summary(all, centreC) {
  const those = (/** @type {string} */ state) =>
    all.filter(({ standing }) => standing && standing.state === state).map(({ label }) => label);
  const compared = all.filter(({ standing }) => standing && standing.offK !== null).length;
  /** @type {string[]} */
  const broken = [];
  all.forEach(({ label, standing }) => {
    if (standing && standing.tImpliedC === null) {
      broken.push(`${label} (${verdictWord(standing.state).toLowerCase()})`);
    }
  });
  const rest = broken.length ? ` ${listed(broken)} cannot be held against the others.` : "";
  if (compared < 2) return tooFew(broken, rest);
  const middle = centreC === null ? "" : ` The middle is ${sayT(centreC)}.`;
  const out = those("stands-out");
  const unsure = those("undecided");
  if (out.length) {
    const disagree = out.length > 1 ? "disagree" : "disagrees";
    return { state: "outside", why: `${listed(out)} ${disagree} with the rest.${middle}${rest}`,
      word: out.length > 1 ? `${out.length} stand out` : `${out[0]} stands out` };
  }
  if (compared < 3) {
    const why = `Two alone cannot say which of them is wrong.${middle}${rest}`;
    return { state: "undecided", why, word: "Too few yet" };
  }
  if (unsure.length) {
    const are = unsure.length > 1 ? "are" : "is";
    return { state: "undecided", word: "Not decided",
      why: `${listed(unsure)} ${are} too close to call with these instruments.${middle}${rest}` };
  }
  return { state: broken.length ? "outside" : "within",
    why: `${compared} agree with each other.${middle} Nothing speaks against them.${rest}`,
    word: broken.length ? "The others agree" : "All agree" };
}

/** @param {string[]} broken @param {string} rest @returns {Summary} */
function tooFew(broken, rest) {
  return { state: broken.length ? "outside" : "undecided",
    why: `Fill in at least three, so that they can be held against each other.${rest}`,
    word: broken.length ? "Faulty by itself" : "Too few yet" };
}
