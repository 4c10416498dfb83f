// The pages that were opened last, for home to lead back to: their titles and nothing else.

import { remember, rememberedAs } from "../look.js";

/** @typedef {{title: string, url: string}} OpenedPage url: from the site's root */

const KEY = "ohm.opened";
const MOST = 5;

/** @returns {OpenedPage[]} the newest first */
export function lastOpened() { return rememberedAs(KEY, [{ title: "", url: "" }]) || []; }

function noteThisPage() {
  const heading = document.querySelector("h1");
  /** @type {?HTMLElement} */
  const find = document.querySelector(".ohm-find");
  // Home itself is where one comes back to; in a file of its own all pages have one address.
  if (!heading || !find || document.querySelector(".ohm-kind-home, [data-pocket]")) return;
  const root = new URL(find.dataset.root || "./", location.href).href;
  const url = location.href.split(/[?#]/)[0].slice(root.length);
  const title = (heading.textContent || "").trim();
  const pages = [{ title, url }, ...lastOpened().filter((page) => page.url !== url)];
  remember(KEY, JSON.stringify(pages.slice(0, MOST)));
}

noteThisPage();
