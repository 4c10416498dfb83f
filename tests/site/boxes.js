// What lies where on the page that is open: text on text, text cut off, text beyond the edge.
(() => {
  const SHRUNK = 0.22; // of a line's height, above and below: lines of letters touch before letters do
  const MOST_PX = 2;
  const cuts = [];
  const name = (element) => {
    const words = (element.textContent || "").trim().replace(/\s+/g, " ").slice(0, 40);
    const kind = element.getAttribute("class");
    return `${element.localName}${kind ? `.${kind.trim().split(/\s+/).join(".")}` : ""} "${words}"`;
  };
  /** Words for the ear alone, and those of elements that draw their own. */
  const hiddenWords = (element) => {
    for (let at = element; at; at = at.parentElement) {
      if (getComputedStyle(at).clipPath === "inset(50%)") return true;
    }
    return element.closest(".ohm-skip, defs, title, desc, option");
  };
  const afloat = (element) => {
    for (let at = element; at; at = at.parentElement) {
      if (["fixed", "sticky"].includes(getComputedStyle(at).position)) return at;
    }
    return null;
  };

  /** The part of a box that the frames around it let through. */
  function through(rect, element) {
    let { left, right, top, bottom } = rect;
    for (let at = element; at && at !== document.body; at = at.parentElement) {
      const style = getComputedStyle(at);
      if (style.display === "inline" || style.overflowX === "visible") continue;
      const frame = at.getBoundingClientRect();
      left = Math.max(left, frame.left);
      right = Math.min(right, frame.right);
      top = Math.max(top, frame.top);
      bottom = Math.min(bottom, frame.bottom);
    }
    return { left, right, top, bottom };
  }

  /** Whether a frame that cannot be scrolled hides a part of a box that is meant to be read. */
  function cutOff(rect, element) {
    const spare = (rect.bottom - rect.top) * SHRUNK;
    for (let at = element; at && at !== document.body; at = at.parentElement) {
      const style = getComputedStyle(at);
      if (style.display === "inline" || at.namespaceURI !== document.body.namespaceURI) continue;
      const frame = at.getBoundingClientRect();
      // Beyond a frame that scrolls, nothing is lost.
      if (["auto", "scroll"].includes(style.overflowX) || ["auto", "scroll"].includes(style.overflowY)) return false;
      if (["hidden", "clip"].includes(style.overflowX) &&
          (rect.right > frame.right + 1 || rect.left < frame.left - 1)) return true;
      if (["hidden", "clip"].includes(style.overflowY) &&
          (rect.bottom - spare > frame.bottom || rect.top + spare < frame.top)) return true;
    }
    return false;
  }

  function texts() {
    const found = [];
    cuts.length = 0;
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const element = node.parentElement;
      if (!node.data.trim() || ["script", "style", "noscript"].includes(element.localName)) continue;
      if (hiddenWords(element) || !element.checkVisibility({ checkOpacity: true, checkVisibilityCSS: true })) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      const float = afloat(element);
      for (const rect of range.getClientRects()) {
        const box = through(rect, element);
        if (cutOff(rect, element)) cuts.push(`cut: "${node.data.trim().slice(0, 30)}" of ${name(element)}`);
        if (box.right - box.left < 1 || box.bottom - box.top < 2) continue;
        const spare = (rect.bottom - rect.top) * SHRUNK;
        found.push({ ...box, top: Math.max(box.top, rect.top + spare),
          bottom: Math.min(box.bottom, rect.bottom - spare), element, float, words: node.data.trim() });
      }
    }
    return found;
  }

  /** Numerals and marks that styles put before a text, where they have a place of their own. */
  function marks() {
    const found = [];
    document.querySelectorAll("li, p, summary, label").forEach((element) => {
      if (!element.checkVisibility()) return;
      const style = getComputedStyle(element, "::before");
      if (style.position !== "absolute" || ["none", '""', "normal"].includes(style.content)) return;
      const around = element.getBoundingClientRect();
      const left = around.left + element.clientLeft + parseFloat(style.left);
      const top = around.top + element.clientTop + parseFloat(style.top);
      const [wide, high] = [parseFloat(style.width), parseFloat(style.height)];
      if (!(wide > 0) || !(high > 0)) return;
      const spare = high * SHRUNK;
      found.push({ left, right: left + wide, top: top + spare, bottom: top + high - spare,
        element, float: afloat(element), words: "(numeral)", mark: true });
    });
    // A list's own numerals hang to the left of its text: there must be room for them.
    const brush = document.createElement("canvas").getContext("2d");
    document.querySelectorAll("ol > li, ul > li").forEach((li) => {
      const style = getComputedStyle(li);
      if (style.display !== "list-item" || style.listStyleType === "none" || !li.checkVisibility()) return;
      if (style.listStylePosition === "inside") return;
      const list = li.parentElement.getBoundingClientRect();
      brush.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
      const number = Array.from(li.parentElement.children).indexOf(li) + 1;
      const words = li.parentElement.localName === "ol" ? `${number}.` : "•";
      const wide = brush.measureText(words).width;
      const room = li.getBoundingClientRect().left + parseFloat(style.paddingLeft) - Math.max(0, list.left);
      if (room < wide) found.push({ cut: true, element: li, words: `(numeral ${words})` });
    });
    return found;
  }

  const related = (a, b) => a.element === b.element ? !(a.mark || b.mark)
    : a.mark || b.mark ? false : a.element.contains(b.element) || b.element.contains(a.element);

  function overlaps(boxes) {
    const faults = [];
    const sorted = boxes.slice().sort((a, b) => a.top - b.top);
    sorted.forEach((a, i) => {
      for (let k = i + 1; k < sorted.length && sorted[k].top < a.bottom - MOST_PX; k += 1) {
        const b = sorted[k];
        const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
        const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        if (wide <= MOST_PX || high <= MOST_PX || a.float !== b.float || related(a, b)) continue;
        faults.push(`overlap: "${a.words.slice(0, 30)}" of ${name(a.element)} and ` +
          `"${b.words.slice(0, 30)}" of ${name(b.element)} by ${wide.toFixed(0)} x ${high.toFixed(0)} px`);
      }
    });
    return faults;
  }

  /** What scrolls sideways and is no frame of a table. */
  function scrolling() {
    const faults = [];
    document.querySelectorAll("body *").forEach((element) => {
      const wide = element.scrollWidth - element.clientWidth;
      if (wide <= 1 || element.matches(".ohm-scroll, input, textarea, select")) return;
      if (["auto", "scroll"].includes(getComputedStyle(element).overflowX) && element.checkVisibility()) {
        faults.push(`scrolls: ${name(element)} by ${wide} px, and is no frame of a table`);
      }
    });
    return faults;
  }

  function beyond(boxes) {
    const edge = document.documentElement.clientWidth;
    const faults = boxes.filter(({ left, right }) => right > edge + 1 || left < -1)
      .map(({ element, left, right }) => `beyond: ${name(element)} from ${left.toFixed(0)} to ` +
        `${right.toFixed(0)} of ${edge} px`);
    const page = document.scrollingElement;
    if (page.scrollWidth > page.clientWidth + 1) {
      faults.push(`scrolls: the page by ${page.scrollWidth - page.clientWidth} px`);
    }
    return faults;
  }

  globalThis.boxFaults = () => {
    scrollTo(0, 0);
    const found = texts();
    const before = marks();
    const numerals = before.filter(({ cut: without }) => !without);
    const roomless = before.filter(({ cut: without }) => without)
      .map(({ element, words }) => `cut: ${words} of ${name(element)}`);
    return [...overlaps([...found, ...numerals]), ...cuts, ...scrolling(), ...beyond(found), ...roomless];
  };
})();
