// A text leaves the page: to the clipboard where the browser lets a page do so, or saved as a file.

import { link } from "./element.js";

/**
 * @param {string} text
 * @param {function(): void} select marks the text on the page, for browsers that copy only what is
 *   marked, and for hands where none does
 * @returns {Promise<boolean>} whether it was copied; from a folder it often is not
 */
export function toClipboard(text, select) {
  const older = () => {
    select();
    try { return document.execCommand("copy"); } catch (refused) { return false; }
  };
  if (!navigator.clipboard || !navigator.clipboard.writeText) return Promise.resolve(older());
  return navigator.clipboard.writeText(text).then(() => true, older);
}

/** @param {HTMLElement} from where the text stands, to be marked where the phone refuses
 * @returns {Promise<boolean>} whether it was copied */
export function copyFrom(from) {
  return toClipboard(from.textContent || "", () => {
    const selection = getSelection();
    if (selection) selection.selectAllChildren(from);
    from.focus();
  });
}

/** @param {File} content */
export function saveFile(content) {
  const file = link("", URL.createObjectURL(content));
  file.download = content.name;
  file.click();
  setTimeout(() => { URL.revokeObjectURL(file.href); }, 10000);
}
