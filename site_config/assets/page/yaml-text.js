// A text as an entry of the notes holds it.

/**
 * Quote a text so that it stays text: single quotes double themselves, nothing else is special.
 * @param {string} text @returns {string}
 */
export function quoted(text) {
  return `'${String(text).replace(/\s+/g, " ").trim().replace(/'/g, "''")}'`;
}
