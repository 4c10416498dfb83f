// How long ago something was, in words.

import { statement } from "../answers/statement.js";

const MINUTE_MS = 60e3;
const HOUR_MIN = 60;
const DAY_H = 24;

/** @param {string} time ISO 8601 @param {Date} [now]
 * @returns {import("../answers/statement.js").Statement} such as 14 min ago */
export function ageOf(time, now = new Date()) {
  const minutes = Math.floor(Math.max(0, now.getTime() - Date.parse(time)) / MINUTE_MS);
  if (minutes < 1) return statement("kept.now");
  if (minutes < 2 * HOUR_MIN) return statement("kept.minutes", { count: minutes });
  const hours = Math.floor(minutes / HOUR_MIN);
  if (hours < 2 * DAY_H) return statement("kept.hours", { count: hours });
  return statement("kept.days", { count: Math.floor(hours / DAY_H) });
}
