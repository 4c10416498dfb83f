// A drill on a display: how many ohms it shows, and how far off they may be. Mirrors
// kb/answers/drill_meter.py.

import { meterDisplay } from "../numbers/meter-display.js";
import { drillOf } from "./drill.js";
import { statement } from "./statement.js";

/** @typedef {import("./tools.js").NamedMeter} NamedMeter */
/** @typedef {import("./drill.js").DrillNotes} DrillNotes */

const OVER_ONE_IN = 6;
const OVER_SHOWS = "OL";

/** @param {DrillNotes} notes @returns {NamedMeter[]} */
export const toRead = (notes) => notes.meters;

/** @param {NamedMeter} named @param {DrillNotes} notes
 * @param {import("./drill.js").Seeded} draw @returns {import("./drill.js").Drill} */
export function displayOfMeter(named, notes, draw) {
  const ranges = named.meter.ranges;
  const place = draw.below(ranges.length);
  const used = ranges[place];
  const { span_ohm: spanOhm, resolution_ohm: digitOhm, percent, digits } = used;
  const over = draw.below(OVER_ONE_IN) === 0;
  // Below the span of the range before it, the meter would have taken that one.
  const lowOhm = place ? ranges[place - 1].span_ohm : spanOhm / 20;
  const drawnOhm = draw.between(lowOhm, spanOhm);
  const shownOhm = Math.min(Math.floor(drawnOhm / digitOhm + 0.5) * digitOhm, spanOhm);
  const [figure, unit] = meterDisplay(shownOhm, used);
  const halfOhm = (shownOhm * percent) / 100 + digits * digitOhm;
  const shown = over ? notes.overShows[named.id] || OVER_SHOWS : figure;
  return drillOf({
    kind: "meter", form: "display", family: "", about: `instruments/${named.id}`,
    ask: statement("drill.ask-meter", { meter: named.name }),
    given: [statement("drill.given-meter", {
      percent, digits, digit_ohm: digitOhm,
      span: meterDisplay(spanOhm, { span_ohm: spanOhm, resolution_ohm: spanOhm }).join(" "),
    })],
    shown: [shown, unit],
    figures: over ? { shownOhm: Infinity, halfOhm: Infinity, digitOhm } : { shownOhm, halfOhm, digitOhm },
    because: over ? [statement("drill.because-over", { shown })] : [
      statement("drill.because-meter", { shown: `${shown} ${unit}` }),
      statement("drill.because-half", { percent, digits, digit_ohm: digitOhm, half_ohm: halfOhm }),
    ],
  });
}
