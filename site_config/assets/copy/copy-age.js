// How old a copy is, as far as a clock can tell that may be wrong. Pure: it touches no page.

const DAY_MS = 24 * 60 * 60 * 1000;
/** A day begins up to 14 hours earlier elsewhere: so much may lie ahead without a fault. */
const AHEAD_MS = DAY_MS;

/** The last time that a date can say: a phone's storage may hold any number. */
const LAST_MS = 8.64e15;

/**
 * @param {number} known when it was last known to be the newest, ms since 1970; 0 if never
 * @param {number} now by this phone's clock
 * @returns {?number} whole days; null where what is known lies ahead, so that the clock or the
 *   copy's date is wrong
 */
export function ageDays(known, now) {
  if (known > now + AHEAD_MS) return null;
  return known ? Math.max(0, Math.floor((now - known) / DAY_MS)) : 0;
}

/** @param {number} time ms since 1970 @returns {string} year-month-day */
export function dayOf(time) { return new Date(Math.min(time, LAST_MS)).toISOString().slice(0, 10); }
