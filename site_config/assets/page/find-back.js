// Keep what was typed into Find beside the page in the browser's history: Back brings it back.

/** @typedef {{typed: string, within: string}} FindQuery within: a family's name, or nothing */

const KEY = "ohmFind";

/** @returns {?FindQuery} what led away from this page */
export function keptQuery() {
  const state = history.state;
  return state && state[KEY] ? state[KEY] : null;
}

/** @param {?FindQuery} query null forgets it */
export function keepQuery(query) {
  if (!query && !keptQuery()) return;
  // A browser may refuse, as when asked too often: then Back brings the page alone.
  try { history.replaceState({ ...history.state, [KEY]: query }, ""); } catch (refused) { /* no more */ }
}
