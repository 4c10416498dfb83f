// While the notes are being written: reload after a good build, show the problem after a bad one.
// Put into pages by `ohmfolio serve` alone; a published site never holds it.
(() => {
  "use strict";
  let number = null;
  let box = null;

  function show(problem) {
    if (!box) {
      box = document.createElement("section");
      box.className = "ohm-live";
      box.setAttribute("role", "alert");
      document.body.append(box);
    }
    const title = document.createElement("h2");
    const words = document.createElement("pre");
    const note = document.createElement("p");
    title.textContent = "The notes have a fault";
    words.textContent = problem;
    words.tabIndex = 0;
    note.textContent = "Below stands the last good site. It reloads when the fault is mended.";
    box.replaceChildren(title, words, note);
  }

  function take(state) {
    const first = number === null;
    const news = !first && state.number !== number;
    number = state.number;
    if (state.problem) show(state.problem);
    else if (news) location.reload();
  }

  function ask() {
    fetch(`/_ohmfolio/changes?since=${number || 0}`, { cache: "no-store" })
      .then((answer) => answer.json())
      .then((state) => { take(state); setTimeout(ask, 50); })
      // The program was stopped: ask again until it is back.
      .catch(() => { setTimeout(ask, 2000); });
  }

  ask();
})();
