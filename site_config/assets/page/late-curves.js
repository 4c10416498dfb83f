// The curves of other parts come when a reading asks what else it may be: most never ask.

import { gridOf } from "../numbers/grid.js";
import { bringScript, parts } from "./element.js";

/** @typedef {import("../answers/judged.js").SensorFacts} SensorFacts */

/** @param {SensorFacts} sensor @returns {SensorFacts} with the curves that the page has by now */
export function withCurves(sensor) {
  const [familyCurves, otherCurves] = [{ ...sensor.familyCurves }, { ...sensor.otherCurves }];
  Object.keys(globalThis.OhmCurves || {}).forEach((curveId) => {
    const grid = gridOf(curveId);
    if (!grid || curveId === sensor.curveId) return;
    (curveId in (sensor.labels || {}) ? familyCurves : otherCurves)[curveId] = grid;
  });
  return { ...sensor, familyCurves, otherCurves };
}

/** @param {HTMLElement} answer busy until they have come: it is not read out twice
 * @param {function(): void} brought when all that come have come; not where none did
 * @returns {function(): void} bring them; those that did not come are asked for again */
export function curvesLater(answer, brought) {
  let wanted = parts(document, "script[data-curve]");
  return () => {
    const asked = wanted;
    let open = asked.length;
    wanted = [];
    if (open) answer.setAttribute("aria-busy", "true");
    const settled = () => {
      open -= 1;
      if (open) return;
      answer.removeAttribute("aria-busy");
      if (wanted.length < asked.length) brought();
    };
    asked.forEach((place) => bringScript(place.dataset.later || "", {
      load: settled,
      fail() { wanted.push(place); settled(); },
    }));
  };
}
