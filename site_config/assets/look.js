// Settle light or dark before the first paint, and say that scripts run. Not deferred, for that reason.

const KEY = "ohm.look";
const sheet = /** @type {HTMLLinkElement} */ (document.querySelector("[data-ohm-dark]"));
const system = sheet.media;
document.documentElement.className = "js";

/** A phone may refuse to remember, as when opened from a folder: then it forgets, no more.
 * @param {string} key @returns {?string} */
export function remembered(key) {
  try { return localStorage.getItem(key); } catch (refused) { return null; }
}

/** @param {string} key @param {?string} value null forgets it */
export function remember(key, value) {
  try {
    if (value === null) localStorage.removeItem(key);
    else localStorage.setItem(key, value);
  } catch (refused) { /* forgotten at the next page, no more */ }
}

export const look = {
  /** What the phone itself says, to be listened to. */
  phone: matchMedia(system),
  /** @returns {boolean} */
  dark() {
    const chosen = remembered(KEY);
    return chosen ? chosen === "dark" : look.phone.matches;
  },
  /** @param {boolean} dark */
  choose(dark) {
    // Choosing what the phone says anyway follows the phone again.
    remember(KEY, dark === look.phone.matches ? null : dark ? "dark" : "light");
    sheet.media = dark === look.phone.matches ? system : dark ? "all" : "not all";
  },
};
if (remembered(KEY)) look.choose(look.dark());
