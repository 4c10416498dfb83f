// What is folded: written open, so that it reads without scripts and on paper; folded as the page opens.

import { parts } from "./element.js";

const FOLD = "details.ohm-fold";
/** The styles show nothing of a fold that has not been folded yet: the page does not jump. */
const FOLDED = "data-folded";

/** Where two columns fit, as in the styles, some folds have room to stay open. */
const TWO_COLUMNS = "(min-width: 56.25em)";

/** @type {Set<HTMLDetailsElement>} opened for the paper only */
const forPaper = new Set();

/** Open what an anchor leads into: a place that is folded away cannot be scrolled to.
 * @param {?Element} place */
export function unfold(place) {
  for (let around = place; around; around = around.parentElement) {
    if (around instanceof HTMLDetailsElement) around.open = true;
  }
}

/** Open where the page's address leads. */
function unfoldAddressed() {
  const place = document.getElementById(decodeURIComponent(location.hash.slice(1)));
  unfold(place);
  if (place) place.scrollIntoView();
}

/** @param {boolean} paper whether the page is on its way to paper */
function layOpen(paper) {
  if (paper) {
    parts(document, "details:not([open])").forEach((fold) => {
      if (fold instanceof HTMLDetailsElement) forPaper.add(fold);
    });
  }
  forPaper.forEach((fold) => { fold.open = paper; });
  if (!paper) forPaper.clear();
}

parts(document, FOLD).forEach((fold) => {
  const beside = fold.classList.contains("ohm-fold-beside") && matchMedia(TWO_COLUMNS).matches;
  if (!beside) fold.removeAttribute("open");
  fold.setAttribute(FOLDED, "");
});
if (location.hash) unfoldAddressed();
addEventListener("hashchange", unfoldAddressed);
// The same way once more changes no address.
document.addEventListener("click", ({ target }) => {
  const way = target instanceof Element ? target.closest('a[href^="#"]') : null;
  if (way instanceof HTMLAnchorElement) unfold(document.getElementById(way.hash.slice(1)));
});
// Not every browser tells of both.
addEventListener("beforeprint", () => { layOpen(true); });
addEventListener("afterprint", () => { layOpen(false); });
matchMedia("print").addEventListener("change", ({ matches }) => { layOpen(matches); });
