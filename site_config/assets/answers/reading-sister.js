// What a sister in the same cup reads, as typed. Mirrors kb/answers/reading_sister.py.

import { meterSpanOhm } from "../numbers/instruments.js";
import { OutOfRange } from "../numbers/out-of-range.js";
import { besideSister } from "../numbers/sister.js";
import { Refusal, statement } from "./statement.js";
import { typedReadingOhm } from "./typed.js";

/** @param {import("./judged.js").SensorFacts} sensor
 * @param {import("../numbers/instruments.js").Measured} shown @param {import("./tools.js").Tools} tools
 * @returns {import("../numbers/instruments.js").Measured} with the temperature of the sister
 * @throws {Refusal} her reading missing, unreadable or none of her curve */
export function takenBesideSister({ curve, curveId, familyCurves = {}, allowK = 0 }, shown,
  { meter: named, sister = "", sisterCurve = "" }) {
  const field = "sister";
  if (!sister.trim()) throw new Refusal(statement("field.sister-missing"), { field, missing: true });
  const sisterOhm = typedReadingOhm(sister, { field });
  const meter = named && named.meter;
  const curves = { "": curve, [curveId]: curve, ...familyCurves };
  if (!curves[sisterCurve]) {
    throw new Refusal(statement("field.sister-curve-away"), { field, missing: true });
  }
  try {
    if (sisterOhm <= (meter ? meterSpanOhm(meter) : Number.MAX_VALUE)) {
      return besideSister(shown, curve,
        { sisterOhm, sisterCurve: curves[sisterCurve], meter, allowK });
    }
  } catch (error) {
    if (!(error instanceof OutOfRange)) throw error;
  }
  throw new Refusal(statement("field.sister-off-curve"), { field });
}
