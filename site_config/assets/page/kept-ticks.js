// What this phone remembers of a list to tick off.

import { remember, remembered } from "../look.js";

/**
 * @param {string} list the list's name
 * @returns {{ticked: string[], complete: boolean}} what this phone remembers of it
 */
export function ticksOf(list) {
  const words = (remembered(`ohm.ticks.${list}`) || "").split(" ").filter(Boolean);
  return {
    ticked: words.filter((word) => word !== "complete"),
    complete: words.includes("complete"),
  };
}

/** @param {string} list @param {string[]} ticked @param {boolean} complete */
export function keepTicks(list, ticked, complete) {
  const words = complete ? ticked.concat("complete") : ticked;
  remember(`ohm.ticks.${list}`, words.length ? words.join(" ") : null);
}
