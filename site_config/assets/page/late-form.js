// A form that few want comes when the fold around it is opened: an old phone reads every byte.

import { bringScript, parts } from "./element.js";

parts(document, "script[data-later]").forEach((late) => {
  const fold = late.closest("details");
  let asked = false;

  function bring() {
    if (asked || !(fold instanceof HTMLDetailsElement) || !fold.open) return;
    asked = true;
    bringScript(late.getAttribute("data-later") || "", {
      load() { late.remove(); },
      // The next opening tries again.
      fail() { asked = false; },
    });
  }

  if (fold) fold.addEventListener("toggle", bring);
});
