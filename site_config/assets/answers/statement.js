// A sentence without its words, and a question that has no answer. Mirrors kb/answers/statement.py.

/**
 * What is to be said; words/phrase.js finds the words. The unit at the end of a figure's name
 * decides how it is printed, so figures keep the names that Python gives them.
 * @typedef {{id: string, figures: Object<string, any>}} Statement
 *
 * field: the field to look at again, or nothing; missing: nothing was typed yet, which is no fault.
 * @typedef {Error & {statement: Statement, field: string, missing: boolean}} Refusal
 */

/** @param {string} id section and name in the catalogue of words
 * @param {Object<string, any>} [figures] by placeholder @returns {Statement} */
export const statement = (id, figures = {}) => ({ id, figures });

/** @param {Statement} why @param {{field?: string, missing?: boolean}} [where]
 * @returns {Refusal} to be thrown; its name is Refusal */
export function refusal(why, { field = "", missing = false } = {}) {
  const error = new Error(why.id);
  error.name = "Refusal";
  return Object.assign(error, { statement: why, field, missing });
}
