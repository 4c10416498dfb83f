// What is under way, kept for as long as this tab stands: who looks at a page of the notes comes back to it.

/** JSON knows no open circuit: it is written as this. */
const ENDLESS = "∞";

/** @param {string} _key @param {*} value */
const written = (_key, value) => (value === Infinity ? ENDLESS : value);

/** @param {string} _key @param {*} value */
const read = (_key, value) => (value === ENDLESS ? Infinity : value);

/** Another release may draw otherwise from the same number: what it kept is not gone on with. */
const release = () => (globalThis.Ohm && Ohm.release ? Ohm.release.number : 0);

/** @param {string} key @param {*} what null forgets it */
export function keepUnderWay(key, what) {
  try {
    if (what === null) sessionStorage.removeItem(key);
    else sessionStorage.setItem(key, JSON.stringify({ release: release(), what }, written));
  } catch (refused) { /* begun again, no more */ }
}

/** @param {string} key @returns {*} what was kept of it by this release, or null */
export function underWay(key) {
  try {
    const kept = JSON.parse(sessionStorage.getItem(key) || "null", read);
    return kept && kept.release === release() ? kept.what : null;
  } catch (refused) {
    return null;
  }
}
