// °C or °F: what this phone shows, and everything on the page that follows it.

import { remember, remembered } from "../look.js";
import { formatK, formatT } from "../numbers/rounding.js";
import { parts } from "./element.js";

const KEY = "ohm.unit";

export const unit = {
  /** @returns {"C"|"F"} */
  now() { return remembered(KEY) === "F" ? "F" : "C"; },
  /** @param {"C"|"F"} chosen; tells everyone by the event `ohm:unit` on the document */
  choose(chosen) {
    remember(KEY, chosen);
    unit.say(document);
    document.dispatchEvent(new CustomEvent("ohm:unit", { detail: chosen }));
  },
  /** Say the temperatures inside an element that was made after the page.
   * @param {ParentNode} where */
  say(where) {
    follow(where, ".ohm-t[data-c]", ({ c }) => {
      const tC = Number(c);
      return formatT(tC, "F", Number.isInteger(tC) ? 0 : 1);
    });
    follow(where, ".ohm-dt[data-k]", ({ k }) => formatK(Number(k), "F"));
  },
};

/**
 * @param {ParentNode} where @param {string} selector
 * @param {function(DOMStringMap): string} inFahrenheit from an element's data
 */
function follow(where, selector, inFahrenheit) {
  parts(where, selector).forEach((element) => {
    // What the notes said stays as they said it; only °F is worked out.
    const noted = element.dataset.noted || element.textContent || "";
    element.dataset.noted = noted;
    element.textContent = unit.now() === "C" ? noted : inFahrenheit(element.dataset);
  });
}
