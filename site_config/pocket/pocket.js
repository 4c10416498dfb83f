// One file holds a whole family: shows one page of it at a time, and runs that page's own scripts on it.
((Ohm) => {
  "use strict";
  const stage = document.querySelector("[data-pocket]");
  const pages = new Map();
  const ran = new Set();
  stage.querySelectorAll(":scope > article").forEach((one) => { pages.set(one.id, one); });
  const first = stage.firstElementChild.id;

  const names = [...pages.keys()];

  /** The page that an anchor is in: its own name, or its place before the double dash. */
  function pageOf(anchor) {
    const within = /^p(\d+)--/.exec(anchor);
    const name = within ? names[Number(within[1])] : anchor;
    return pages.has(name) ? name : first;
  }

  /** What many pages have word for word stands whole on one of them: here it comes to its place. */
  function fill(page) {
    page.querySelectorAll("a[data-whole]").forEach((link) => {
      const anchor = link.getAttribute("href").slice(1);
      const whole = pages.get(pageOf(anchor)).querySelector(`#${CSS.escape(anchor)}`).cloneNode(true);
      whole.removeAttribute("id");
      link.parentNode.replaceWith(whole);
    });
  }

  function show() {
    const anchor = decodeURIComponent(location.hash.slice(1));
    const page = pages.get(pageOf(anchor));
    if (page.parentNode !== stage || stage.children.length > 1) stage.replaceChildren(page);
    // Each page is met by its scripts once, alone, just as on a page of its own.
    if (!ran.has(page.id)) {
      ran.add(page.id);
      fill(page);
      (page.dataset.scripts || "").split(" ").forEach((name) => { if (name) OhmPocket[name](); });
      if (Ohm.unit && Ohm.unit.now() === "F") Ohm.unit.say(page);
    }
    const at = anchor.includes("--") ? document.getElementById(anchor) : null;
    Ohm.unfold(at);
    if (at) at.scrollIntoView();
    else scrollTo(0, 0);
  }

  addEventListener("hashchange", show);
  show();
})((globalThis.Ohm = globalThis.Ohm || {}));
