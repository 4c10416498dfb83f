// When to practise a thing again: right moves it a box on and doubles the days, wrong starts anew.

/**
 * due: the day, counted from 1 January 1970 as this phone's calendar has it.
 * @typedef {{box: number, due: number}} Box
 */

/** The last box: what was right so often comes back every thirty-two days. */
export const LAST_BOX = 5;

/** @param {Date} at @returns {number} days since 1 January 1970 in the calendar of this phone */
export const dayNumber = (at) =>
  Math.round(Date.UTC(at.getFullYear(), at.getMonth(), at.getDate()) / 864e5);

/** Boxes of doubling days, after S. Leitner, "So lernt man lernen" (1972), from memory: what is wrong
 * goes back to the first box and is due the same day, what is right waits 2, 4, 8, 16, 32 days. What
 * comes right before it is due stays where it is: twice on one day is not remembered for a month.
 * @param {?Box} box null for what was never practised @param {boolean} right @param {number} today
 * @returns {Box} */
export function movedBox(box, right, today) {
  if (!right) return { box: 0, due: today };
  if (box && box.due > today) return box;
  const next = Math.min((box ? box.box : 0) + 1, LAST_BOX);
  return { box: next, due: today + Math.pow(2, next) };
}

/** @param {Date} at @returns {string} its day in the calendar of this phone, as 2026-03-01 */
export const dayText = (at) => new Date(dayNumber(at) * 864e5).toISOString().slice(0, 10);
