// A sentence without its words, and a question that has no answer. Mirrors kb/answers/statement.py.

/**
 * What is to be said; words/phrase.js finds the words. The unit at the end of a figure's name
 * decides how it is printed, so figures keep the names that Python gives them.
 * @typedef {{id: string, figures: Object<string, any>}} Statement
 */

/** @param {string} id section and name in the catalogue of words
 * @param {Object<string, any>} [figures] by placeholder @returns {Statement} */
export const statement = (id, figures = {}) => ({ id, figures });

/**
 * One way to take what could be read two ways: its name in the catalogue, section choice, and what
 * to type for it instead; nothing where it must be measured again.
 * @typedef {{id: string, typed: string}} Choice
 */

/** A question that has no answer: thrown by whatever meets it, caught by whoever asked. */
export class Refusal extends Error {
  /** missing: nothing was typed yet, which is no fault; choices: what it asks, where it asks
   * @param {Statement} why
   * @param {{field?: string, missing?: boolean, choices?: Choice[]}} where to look again */
  constructor(why, { field = "", missing = false, choices = [] } = {}) {
    super(why.id);
    this.name = "Refusal";
    this.statement = why;
    this.field = field;
    this.missing = missing;
    this.choices = choices;
  }
}
