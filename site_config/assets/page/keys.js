// Keys and fields under a glove: a key that is held goes on, faster and faster; a tap into a field
// marks what stands there, so that typing takes its place.

/** Held so long, a key begins to repeat; then it repeats so often, and later in larger steps. */
const BEGINS_MS = 450;
const REPEATS_MS = 150;
const SMALL_STEPS = 10;
const LARGE = 2;

/**
 * A key that steps once at a tap and goes on while it is held.
 * @param {HTMLElement} key
 * @param {{step: function(number): void, done: function(): void}} on
 *   step: how many steps at once; done: let go of
 */
export function heldKey(key, { step, done }) {
  let timer = 0;
  let repeated = 0;

  function again() {
    repeated += 1;
    step(repeated > SMALL_STEPS ? LARGE : 1);
    timer = window.setTimeout(again, REPEATS_MS);
  }
  function letGo() {
    window.clearTimeout(timer);
    timer = 0;
  }
  key.addEventListener("pointerdown", () => {
    letGo();
    repeated = 0;
    timer = window.setTimeout(again, BEGINS_MS);
  });
  ["pointerup", "pointerleave", "pointercancel"].forEach((name) => {
    key.addEventListener(name, () => {
      const held = timer !== 0 && repeated > 0;
      letGo();
      if (held) done();
    });
  });
  // A phone opens a menu on what is pressed long.
  key.addEventListener("contextmenu", (event) => { event.preventDefault(); });
  key.addEventListener("click", () => {
    const held = repeated > 0;
    repeated = 0;
    if (held) return;
    step(1);
    done();
  });
}

/** @param {HTMLInputElement} input a tap that begins in it marks all that stands there */
export function selectOnTap(input) {
  let inside = false;
  input.addEventListener("pointerdown", () => { inside = document.activeElement === input; });
  input.addEventListener("click", () => {
    if (!inside) input.setSelectionRange(0, input.value.length);
  });
}
