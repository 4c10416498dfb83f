// A sentence without its words, and a question that has no answer. Mirrors kb/answers/statement.py.

/**
 * What is to be said; words/phrase.js finds the words. The unit at the end of a figure's name
 * decides how it is printed, so figures keep the names that Python gives them.
 * @typedef {{id: string, figures: Object<string, any>}} Statement
 */

/** @param {string} id section and name in the catalogue of words
 * @param {Object<string, any>} [figures] by placeholder @returns {Statement} */
export const statement = (id, figures = {}) => ({ id, figures });

/** A question that has no answer: thrown by whatever meets it, caught by whoever asked. */
export class Refusal extends Error {
  /** missing: nothing was typed yet, which is no fault
   * @param {Statement} why @param {{field?: string, missing?: boolean}} where to look again */
  constructor(why, { field = "", missing = false } = {}) {
    super(why.id);
    this.name = "Refusal";
    this.statement = why;
    this.field = field;
    this.missing = missing;
  }
}
