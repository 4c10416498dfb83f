// Make elements of a page: the one builder, and the kinds that several places make alike.

/**
 * What the maker of the page put there; where it is not, page and script do not belong together.
 * @param {ParentNode} where @param {string} selector
 * @returns {HTMLElement}
 */
export function part(where, selector) {
  const found = where.querySelector(selector);
  if (!(found instanceof HTMLElement)) throw new Error(`no ${selector} on this page`);
  return found;
}

/** @param {ParentNode} where @param {string} selector @returns {HTMLElement[]} all there are */
export function parts(where, selector) {
  return Array.from(where.querySelectorAll(selector), (found) => /** @type {HTMLElement} */ (found));
}

/**
 * @template {keyof HTMLElementTagNameMap} Tag
 * @param {Tag} tag @param {?string} [className] @param {...(string|Node|null)} inner null adds nothing
 * @returns {HTMLElementTagNameMap[Tag]}
 */
export function el(tag, className, ...inner) {
  const made = document.createElement(tag);
  if (className) made.className = className;
  inner.forEach((part) => { if (part !== null) made.append(part); });
  return made;
}

/**
 * @param {string} words @param {function(): void} press @param {?string} [className]
 * @returns {HTMLButtonElement}
 */
export function button(words, press, className) {
  const made = el("button", className, words);
  made.type = "button";
  made.addEventListener("click", () => press());
  return made;
}

/** @param {string} shown a figure with what it is in, which is set smaller
 * @returns {HTMLElement} */
export function mainFigure(shown) {
  const at = shown.search(/\s\S*$/);
  return el("strong", "ohm-answer-main", shown.slice(0, at), el("span", "ohm-in", shown.slice(at)));
}

/** @param {string} words @param {string} href @returns {HTMLAnchorElement} */
export function link(words, href) {
  const made = el("a", null, words);
  made.href = href;
  return made;
}

/** @param {"col"|"row"} scope @param {string} words @returns {HTMLTableCellElement} a heading */
export function heading(scope, words) {
  const made = el("th", null, words);
  made.scope = scope;
  return made;
}

/** @param {string} label @param {HTMLTableElement} table
 * @returns {HTMLElement} it, scrolling by thumb and by key where it is wider than the page */
export function scrolling(label, table) {
  const region = el("div", "ohm-scroll", table);
  region.tabIndex = 0;
  region.setAttribute("role", "region");
  region.setAttribute("aria-label", label);
  return region;
}

/** @param {Array<[string, string]>} rows @returns {HTMLElement} key facts, empty ones left out */
export function facts(rows) {
  return el("dl", "ohm-facts", ...rows.filter(([, figure]) => figure).map(([name, figure]) =>
    el("div", null, el("dt", null, name), el("dd", null, figure))));
}

/** A script that is wanted late: a page opened from a folder may not fetch, but it may add one.
 * @param {string} address @param {{load: function(): void, fail: function(): void}} then */
export function bringScript(address, { load, fail }) {
  const script = el("script");
  script.src = address;
  script.addEventListener("load", load);
  script.addEventListener("error", fail);
  document.head.append(script);
}
