// When something was read, as short as it can be said: the hour today, with the day before that.

/** @param {number} number */
const two = (number) => String(number).padStart(2, "0");

/** @param {string} time as a job keeps it @param {Date} [now] @returns {string} such as 14:02 */
export function clockTime(time, now = new Date()) {
  const read = new Date(time);
  const hour = `${two(read.getHours())}:${two(read.getMinutes())}`;
  const day = [read.getFullYear(), two(read.getMonth() + 1), two(read.getDate())].join("-");
  return read.toDateString() === now.toDateString() ? hour : `${day} ${hour}`;
}
