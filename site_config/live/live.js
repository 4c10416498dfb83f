// While the notes are being written: reload after a good build, show the problem after a bad one.
// Put into pages by `ohmfolio serve` alone; a published site never holds it.
(function () {
  "use strict";
  var number = null;
  var box = null;

  function show(problem) {
    if (!box) {
      box = document.createElement("section");
      box.className = "ohm-live";
      box.setAttribute("role", "alert");
      document.body.append(box);
    }
    var title = document.createElement("h2");
    var words = document.createElement("pre");
    var note = document.createElement("p");
    title.textContent = "The notes have a fault";
    words.textContent = problem;
    words.tabIndex = 0;
    note.textContent = "Below stands the last good site. It reloads when the fault is mended.";
    box.replaceChildren(title, words, note);
  }

  function take(state) {
    var first = number === null;
    var news = !first && state.number !== number;
    number = state.number;
    if (state.problem) show(state.problem);
    else if (news) location.reload();
  }

  function ask() {
    fetch("/_ohmfolio/changes?since=" + (number || 0), { cache: "no-store" })
      .then(function (answer) { return answer.json(); })
      .then(function (state) { take(state); setTimeout(ask, 50); })
      // The program was stopped: ask again until it is back.
      .catch(function () { setTimeout(ask, 2000); });
  }

  ask();
})();
