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

/** Whether a value has a shape: [x] a list of x, {a: x} at least these, {"*": x} x by any name.
 * @param {any} value @param {any} shape @returns {boolean} */
export function alike(value, shape) {
  if (typeof value !== typeof shape || value === null) return false;
  if (typeof shape !== "object") return true;
  const list = Array.isArray(shape), each = shape[list ? 0 : "*"];
  return list === Array.isArray(value) && (each === undefined
    ? Object.keys(shape).every((key) => alike(value[key], shape[key]))
    : Object.values(value).every((item) => alike(item, each)));
}

/** What was remembered may be of another release, or spoilt: it has the wanted shape, or is nothing.
 * @param {string} key @param {any} shape @returns {any} */
export function rememberedAs(key, shape) {
  try {
    const found = JSON.parse(remembered(key) || "null");
    return alike(found, shape) ? found : null;
  } catch (broken) {
    return null;
  }
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
