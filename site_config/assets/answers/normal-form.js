// The one form in which codes, marks and words are compared, and what is only close to it. Mirrors
// kb/answers/normal_form.py.

import { SPELLINGS } from "../spellings.js";

const SIGN = new RegExp(`[${Object.keys(SPELLINGS.signs).join("")}]`, "gu");
/** Letters that have one form only, and no sign that is spelt otherwise: most texts. */
const PLAIN = /^[ -~]*$/;
const ALIKE = new RegExp(`[${Object.keys(SPELLINGS.alike).join("")}]`, "g");

/** @param {string} text
 * @returns {string} in small plain letters and signs, one space where anything parted words */
export function plainText(text) {
  if (PLAIN.test(text)) return text.toLowerCase().replace(/ {2,}/g, " ").trim();
  return text.normalize("NFKD").toLowerCase()
    .replace(SIGN, (sign) => SPELLINGS.signs[sign])
    .replace(/[\p{Z}\p{C}]+/gu, " ").trim();
}

/** @param {string} text
 * @returns {string} letters and digits only; a code of other signs only, such as --, keeps them */
export function normalForm(text) {
  const plain = plainText(text);
  return plain.replace(/[^\p{L}\p{N}]/gu, "") || plain.replace(/ /g, "");
}

/** @param {string} text
 * @returns {string[]} in normal form, in order; what joins two words parts them too */
export function wordsOf(text) {
  return unmarked(plainText(text)).split(/[^\p{L}\p{N}]+/u).filter(Boolean);
}

/** @param {string} plain @returns {string} without its accents: fünf is funf */
export const unmarked = (plain) => plain.replace(/\p{M}/gu, "");

/** @param {string} form a normal form
 * @returns {string} as a display of seven strokes shows it: n0 for no and n0 */
export const lookOf = (form) => form.replace(ALIKE, (sign) => SPELLINGS.alike[sign]);

/** @param {string} form @param {string} other
 * @returns {boolean} whether one wrong, missing, extra or swapped sign makes the other of it */
export function oneSlip(form, other) {
  if (form === other || Math.abs(form.length - other.length) > 1) return false;
  let i = 0;
  while (i < form.length && i < other.length && form[i] === other[i]) i++;
  if (form.length < other.length) return form.slice(i) === other.slice(i + 1);
  if (form.length > other.length) return form.slice(i + 1) === other.slice(i);
  const swapped = other.slice(i + 1, i + 2) + other[i];
  return form.slice(i + 1) === other.slice(i + 1)
    || form.slice(i) === swapped + other.slice(i + 2);
}
