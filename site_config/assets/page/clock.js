// When something was read, as short as it can be said: the hour today, with the day before that.

/** @param {number} number */
const two = (number) => String(number).padStart(2, "0");

/** @param {Date} read @returns {string} as the notes write it: year-month-day */
const dayOf = (read) => [read.getFullYear(), read.getMonth() + 1, read.getDate()].map(two).join("-");

/** @returns {string} the day on this phone */
export const today = () => dayOf(new Date());

/** @param {string} time as a job keeps it @param {Date} [now] @returns {string} such as 14:02 */
export function clockTime(time, now = new Date()) {
  const read = new Date(time);
  const hour = `${two(read.getHours())}:${two(read.getMinutes())}`;
  return read.toDateString() === now.toDateString() ? hour : `${dayOf(read)} ${hour}`;
}
