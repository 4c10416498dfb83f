// A lamp that blinks at the machine's own pace, or the same as bars of time for whom flashes harm.

import { remember, remembered } from "../look.js";
import { button, el } from "../page/element.js";
import { inWords } from "../words/phrase.js";

const SVG = "http://www.w3.org/2000/svg";
const KEY = "ohm.lamp";
/** In units of the picture: a second, its left edge, the foot of its bars. */
const SECOND = 30;
const EDGE = 6;
const FOOT = 40;

/** Nothing flashes before somebody asks for it, and the pace is never above three a second.
 * @param {number[][]} bars seconds lit and dark, blink for blink
 * @returns {{element: HTMLElement, stop: function(): void}} */
export function lampOf(bars) {
  const lamp = el("div", "ohm-lamp");
  lamp.setAttribute("aria-hidden", "true");
  const picture = barsOf(bars);
  const stage = el("div", "ohm-lamp-stage");
  const says = el("p", "ohm-hint");
  let timer = 0;

  /** @param {number} blink @param {boolean} lit */
  function turn(blink, lit) {
    lamp.classList.toggle("ohm-lamp-lit", lit);
    const waitS = bars[blink][lit ? 0 : 1];
    timer = window.setTimeout(() => turn(lit ? blink : (blink + 1) % bars.length, !lit), waitS * 1000);
  }
  function stop() {
    window.clearTimeout(timer);
    lamp.classList.remove("ohm-lamp-lit");
  }
  /** @param {"flash"|"bars"} way */
  function choose(way) {
    stop();
    remember(KEY, way === "bars" ? way : null);
    keys.forEach((key, i) => key.setAttribute("aria-pressed", String((i === 0) === (way === "flash"))));
    stage.replaceChildren(way === "flash" ? lamp : picture);
    says.textContent = way === "flash" ? inWords("drills.flashing") : inWords("drills.as-bars");
    if (way === "flash") turn(bars.length - 1, false);
  }
  const keys = [
    button(inWords("drills.let-flash"), () => choose("flash")),
    button(inWords("drills.show-bars"), () => choose("bars")),
  ];
  const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
  if (still || remembered(KEY) === "bars") choose("bars");
  else says.textContent = inWords("drills.before-flash");
  return { element: el("div", "ohm-lamp-box", stage, says, el("div", "ohm-keys", ...keys)), stop };
}

/** @param {number[][]} bars @returns {Element} lit and dark along a line of time */
function barsOf(bars) {
  const picture = document.createElementNS(SVG, "svg");
  let x = EDGE;
  const path = bars.map(([litS, darkS]) => {
    const wide = litS * SECOND;
    const bar = `M${x.toFixed(1)} 12h${wide.toFixed(1)}v${FOOT - 12}h${(-wide).toFixed(1)}z`;
    x += wide + darkS * SECOND;
    return bar;
  });
  const lit = document.createElementNS(SVG, "path");
  lit.setAttribute("d", path.join(""));
  const line = document.createElementNS(SVG, "path");
  line.setAttribute("class", "ohm-lamp-line");
  line.setAttribute("d", `M0 ${FOOT}H${x.toFixed(0)}`);
  picture.setAttribute("class", "ohm-lamp-bars");
  picture.setAttribute("width", x.toFixed(0));
  picture.setAttribute("height", String(FOOT + 4));
  picture.setAttribute("viewBox", `0 0 ${x.toFixed(0)} ${FOOT + 4}`);
  picture.setAttribute("role", "img");
  picture.setAttribute("aria-label", bars.map(([litS, darkS]) =>
    inWords("drills.lit", { lit: litS, dark: darkS })).join("; "));
  picture.append(line, lit);
  return picture;
}
