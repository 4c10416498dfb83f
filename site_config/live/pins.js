// While the notes are being written: a tap on a sketch or photo says the line of a pin there, and a
// pin that is dragged is moved in its entry. By keys: arrows place a cross, and a pin goes to it.
// Put into pages by `ohmfolio serve` alone; a published site never holds it.
(() => {
  "use strict";
  const MOVE = "/_ohmfolio/pin";
  const KEPT = "ohm.pin-moved";
  const SLOP_PX = 6;
  const STEP = 1;
  const FINE = 0.1;
  const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  const HINT = "A tap says the line of a pin there; a pin can be dragged. By keys: arrows, finer with shift.";

  let box = null;
  let drag = null;
  let dragged = false;

  const tenth = (value) => Math.round(Math.min(100, Math.max(0, value)) * 10) / 10;
  const nameOf = (pin) => pin.querySelector("text").textContent;
  const pinsOf = (svg) => [...svg.querySelectorAll(".ohm-pin")];

  /** A point of the screen in the sketch's own units. */
  function unitsAt(svg, { clientX, clientY }) {
    return new DOMPoint(clientX, clientY).matrixTransform(svg.getScreenCTM().inverse());
  }

  function percent(svg, { x, y }) {
    const { width, height } = svg.viewBox.baseVal;
    return { x: tenth((100 * x) / width), y: tenth((100 * y) / height) };
  }

  /** Where a pin is: its dot, where its name stands beside it. */
  function placeOf(pin) {
    const { x, y, width, height } = pin.querySelector(".ohm-pin-at, rect").getBBox();
    return { x: x + width / 2, y: y + height / 2 };
  }

  function el(name, className, ...inside) {
    const made = document.createElement(name);
    if (className) made.className = className;
    made.append(...inside);
    return made;
  }

  function key(words, does) {
    const made = el("button", null, words);
    made.type = "button";
    made.addEventListener("click", does);
    return made;
  }

  /** The box stands after its drawing, so that the next tab leads into it. */
  function show(svg, ...inside) {
    if (!box) {
      box = el("section", "ohm-live-pin");
      box.setAttribute("aria-label", "Pins");
      box.addEventListener("keydown", (event) => { if (event.key === "Escape") close(); });
    }
    const words = el("div", "ohm-live-says", ...inside);
    words.setAttribute("role", "status");
    svg.closest("figure").after(box);
    box.replaceChildren(words, key("Close", close));
    const under = document.querySelector(".ohm-live-cross");
    if (!under) return;
    // The box lies over the foot of the screen: what was pointed at is not left below it.
    const covered = under.getBoundingClientRect().bottom + SLOP_PX - box.getBoundingClientRect().top;
    if (covered > 0) window.scrollBy(0, covered);
  }

  function close() {
    if (box) box.remove();
    document.querySelectorAll(".ohm-live-cross").forEach((cross) => { cross.remove(); });
  }

  function lineToCopy(line) {
    const field = el("input");
    field.readOnly = true;
    field.value = line;
    field.setAttribute("aria-label", "Line to paste");
    const copy = key("Copy", () => {
      field.select();
      // A browser that hands over no clipboard still takes what is selected.
      navigator.clipboard.writeText(line).then(() => { copy.textContent = "Copied"; }, () => {});
    });
    return el("p", null, field, copy);
  }

  function chooser(svg, at) {
    const choice = el("select", null, ...pinsOf(svg).map((pin) => el("option", null, nameOf(pin))));
    const move = () => {
      const pin = pinsOf(svg).find((other) => nameOf(other) === choice.value);
      if (pin) send(svg, pin, at);
    };
    return el("p", null, el("label", null, "Or bring a pin here ", choice), key("Move", move));
  }

  function showPlace(svg, at) {
    cross(svg, at);
    const line = `  NEW: {x: ${at.x}, y: ${at.y}, where: ""}`;
    show(svg, el("p", null, "For ", el("code", null, "pins:"), ` of ${svg.dataset.drawing}`),
      lineToCopy(line), ...(pinsOf(svg).length ? [chooser(svg, at)] : []));
  }

  function cross(svg, { x, y }) {
    document.querySelectorAll(".ohm-live-cross").forEach((old) => { old.remove(); });
    const { width, height } = svg.viewBox.baseVal;
    const [cx, cy] = [(x * width) / 100, (y * height) / 100];
    for (const layer of ["ohm-live-cross ohm-live-cross-edge", "ohm-live-cross"]) {
      const drawn = document.createElementNS("http://www.w3.org/2000/svg", "path");
      drawn.setAttribute("class", layer);
      drawn.setAttribute("d", `M${cx - 14},${cy}h28M${cx},${cy - 14}v28`);
      drawn.dataset.x = x;
      drawn.dataset.y = y;
      svg.append(drawn);
    }
  }

  // --- moved

  function showMoved(svg, { drawing, pin, file, line, text, was, back }) {
    const undo = key("Undo", () => { post(svg, { drawing, pin, ...was }, { back: true }); });
    show(svg, el("p", null, el("strong", null, back ? `${pin} is back.` : `${pin} is moved.`), " ",
      `${file}:${line}`), el("pre", null, text), ...(back ? [] : [undo]));
  }

  function showProblem(svg, problem) {
    show(svg, el("p", "ohm-live-refused", el("strong", null, "▲ "), problem));
  }

  function send(svg, pin, at) {
    close();
    pin.removeAttribute("transform");
    const from = placeOf(pin);
    const { width, height } = svg.viewBox.baseVal;
    pin.setAttribute("transform",
      `translate(${(at.x * width) / 100 - from.x} ${(at.y * height) / 100 - from.y})`);
    const move = { drawing: svg.dataset.drawing, pin: nameOf(pin), x: `${at.x}`, y: `${at.y}` };
    post(svg, move, { back: false }).then((moved) => { if (!moved) pin.removeAttribute("transform"); });
  }

  async function post(svg, move, { back }) {
    try {
      const answer = await fetch(MOVE, {
        method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(move),
      });
      const written = await answer.json();
      if (!answer.ok) {
        showProblem(svg, written.problem);
        return false;
      }
      const moved = Object.assign({ back }, move, written);
      // The page comes anew as soon as the site is built: what was done is still said then.
      sessionStorage.setItem(KEPT, JSON.stringify(moved));
      showMoved(svg, moved);
      return true;
    } catch (_) {
      showProblem(svg, "Not moved: nobody answers. Is ohmfolio serve still running?");
      return false;
    }
  }

  function sayAfterReload() {
    const kept = sessionStorage.getItem(KEPT);
    if (!kept) return;
    sessionStorage.removeItem(KEPT);
    const moved = JSON.parse(kept);
    const svg = document.querySelector(`svg[data-drawing="${moved.drawing}"]`);
    if (svg) showMoved(svg, moved);
  }

  // --- by pointer

  function begin(event) {
    dragged = false;
    const pin = event.target.closest(".ohm-pin");
    if (!pin || event.button !== 0) return;
    const svg = event.currentTarget;
    drag = { svg, pin, grip: unitsAt(svg, event), from: placeOf(pin), x: event.clientX, y: event.clientY };
  }

  function follow(event) {
    if (!drag) return;
    const { svg, pin, grip, x, y } = drag;
    if (!dragged && Math.hypot(event.clientX - x, event.clientY - y) < SLOP_PX) return;
    if (!dragged) svg.setPointerCapture(event.pointerId);
    dragged = true;
    const now = unitsAt(svg, event);
    pin.setAttribute("transform", `translate(${now.x - grip.x} ${now.y - grip.y})`);
  }

  function drop(event) {
    const held = drag;
    drag = null;
    if (!held || !dragged) return;
    const now = unitsAt(held.svg, event);
    const at = { x: held.from.x + now.x - held.grip.x, y: held.from.y + now.y - held.grip.y };
    send(held.svg, held.pin, percent(held.svg, at));
  }

  function letGo() {
    if (drag) drag.pin.removeAttribute("transform");
    drag = null;
  }

  function tap(event) {
    if (dragged) {
      event.preventDefault();
      return;
    }
    const svg = event.currentTarget;
    if (!event.target.closest(".ohm-pin")) showPlace(svg, percent(svg, unitsAt(svg, event)));
  }

  // --- by keys

  function keyed(event) {
    if (event.key === "Escape") {
      letGo();
      close();
    }
    const way = ARROWS[event.key];
    const svg = event.currentTarget;
    if (!way || event.target !== svg) return;
    event.preventDefault();
    const old = svg.querySelector(".ohm-live-cross");
    const at = old ? { x: Number(old.dataset.x), y: Number(old.dataset.y) } : { x: 50, y: 50 };
    const step = event.shiftKey ? FINE : STEP;
    showPlace(svg, { x: tenth(at.x + way[0] * step), y: tenth(at.y + way[1] * step) });
  }

  function offer(svg) {
    svg.tabIndex = 0;
    svg.addEventListener("pointerdown", begin);
    svg.addEventListener("pointermove", follow);
    svg.addEventListener("pointerup", drop);
    svg.addEventListener("pointercancel", letGo);
    // A finger on a pin drags it, and not the page: not every browser takes that from the style.
    svg.addEventListener("touchmove", (event) => { if (drag) event.preventDefault(); }, { passive: false });
    svg.addEventListener("dragstart", (event) => { event.preventDefault(); });
    svg.addEventListener("click", tap);
    svg.addEventListener("keydown", keyed);
    svg.closest("figure").append(el("p", "ohm-live-hint", HINT));
  }

  document.querySelectorAll("svg[data-drawing]").forEach(offer);
  sayAfterReload();
})();
