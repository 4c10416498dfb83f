// Not decided: what to read next? Mirrors kb/answers/reading_settling.py.

import { MINUTES, PLACEMENTS } from "../catalog.js";
import { decisionChance } from "../numbers/decision-chance.js";
import { meterDigitOhm, meterHalfOhm, thermometerHalfK } from "../numbers/instruments.js";
import { CUP_HALF_K } from "../numbers/sister.js";
import { halvesK } from "../numbers/verdict.js";
import { statement } from "./statement.js";
import { ICE, SISTER } from "./typed.js";

const MOST_SHOWN = 3;
const LEAST_CHANCE = 0.2;

/**
 * @typedef {import("./tools.js").NamedMeter} NamedMeter
 * @typedef {import("./statement.js").Statement} Statement
 * One way to read it again; placement, meter and thermometer: nothing for as now.
 * @typedef {{placement: string, meter: string, thermometer: string, minutes: number,
 *   chance: number, statement: Statement}} Reread
 * @typedef {{statements: Statement[], ways: Reread[], otherwise: ?Statement}} Settling
 */

/**
 * @param {import("./judged.js").SensorFacts} sensor
 * @param {{verdict: import("../numbers/verdict.js").Verdict,
 *   measured: import("../numbers/instruments.js").Measured,
 *   tools: import("./tools.js").Tools, kit: import("./tools.js").Kit}} how
 * @returns {?Settling} nothing where no uncertainty is to blame
 */
export function whatSettles({ curve, allowK = 0, sisters = [] }, { verdict, measured, tools, kit }) {
  if (!verdict.settling) return null;
  const { neededK, meterCan } = verdict.settling;
  // Beside a sister she is the thermometer.
  const most = verdict.dominant === "thermometer" && tools.placement === SISTER ? SISTER : verdict.dominant;
  const statements = [statement(`settling.needed-${most}`, { needed_k: neededK })];
  const own = tools.meter;
  if (!meterCan) {
    statements.push(statement("settling.meter-cannot", { instrument: own ? own.name : "" }));
  }
  const { tC } = measured;
  const [meterNow, thermometerNow, placementNow, curveNow] = halvesK(verdict);
  /** @type {Object<string, number>} */
  const now = {
    meter: meterNow, thermometer: thermometerNow, placement: placementNow, curve: curveNow,
  };
  const terms = Object.keys(now);
  const cup = tools.placement === ICE || tools.placement === SISTER;
  /** @type {Reread[]} */
  const ways = [];

  /** @param {string} words @param {Object<string, number>} changed half-widths then
   * @param {{atC?: number, placement?: string, kind?: string, tool?: ?{id: string, name: string},
   *   same?: boolean, more?: object}} how same: with the same meter, wrong by the same again */
  const reread = (words, changed,
    { atC = tC, placement = "", kind = "", tool = null, same = true, more = {} }) => {
    const then = { ...now, ...changed };
    /** @type {number[]} */
    const drawnK = [];
    terms.forEach((term) => {
      if (now[term] === then[term] || (term === "meter" && same)) return;
      drawnK.push(now[term], then[term]);
    });
    const minutes = (MINUTES[placement] || 0) + (MINUTES[kind] || 0);
    const chance = decisionChance(/** @type {number} */ (verdict.errorK),
      atC === tC ? verdict.limitK : Math.max(curve.tolK(atC), allowK),
      { leftK: terms.map((term) => then[term]), drawnK });
    ways.push({
      placement, meter: tool && kind === "meter" ? tool.id : "",
      thermometer: tool && kind !== "meter" ? tool.id : "", minutes, chance,
      statement: statement(`settling.way-${words}`,
        { minutes, chance_share: chance, ...(tool ? { instrument: tool.name } : {}), ...more }),
    });
  };

  if (!cup) {
    ["strapped", "held-on"].forEach((placement) => {
      if (PLACEMENTS[placement] < now.placement) {
        reread(placement, { placement: PLACEMENTS[placement] }, { placement });
      }
    });
  }

  const others = kit.meters.filter(({ id }) => !own || id !== own.id);
  /** @param {?NamedMeter} meter @param {number} atC what it leaves open on a good part there, in K */
  const meterK = (meter, atC) => (meter
    ? meterHalfOhm(meter.meter, curve.ohm(atC) + meter.meter.leads_ohm) / Math.abs(curve.slope(atC)) : 0);
  if (curve.holds(0)) {
    const iced = tools.placement === ICE;
    (iced ? others : [own, ...others]).forEach((meter) => {
      const then = {
        meter: meterK(meter, 0), thermometer: 0, placement: PLACEMENTS[ICE], curve: curve.lawK(0),
      };
      if (then.meter === Infinity) return;
      if (meter === own) {
        reread(ICE, then, { atC: 0, placement: ICE });
      } else if (then.meter < now.meter) {
        reread(iced ? "meter" : `${ICE}-with`, then,
          { atC: 0, placement: iced ? "" : ICE, kind: "meter", tool: meter, same: false });
      }
    });
  }

  if (tools.placement !== SISTER && sisters.length) {
    const digitOhm = own ? meterDigitOhm(own.meter, curve.ohm(tC)) : 0;
    if (digitOhm < Infinity) {
      reread(SISTER, {
        meter: (2 * digitOhm) / Math.abs(curve.slope(tC)), placement: CUP_HALF_K, curve: 0,
        thermometer: curve.toleranceKnown ? curve.tolK(tC) : allowK,
      }, { placement: SISTER, same: false, more: { labels: sisters } });
    }
  }

  if (!cup) {
    kit.thermometers.forEach((tool) => {
      const { thermometer } = tool;
      if (tC < thermometer.low_c || tC > thermometer.high_c) return;
      const halfK = thermometerHalfK(thermometer, tC);
      if (halfK < now.thermometer && !(tools.thermometer && tool.id === tools.thermometer.id)) {
        reread("thermometer", { thermometer: halfK }, { kind: "thermometer", tool });
      }
    });
    others.forEach((tool) => {
      const meter = meterK(tool, tC);
      if (meter < now.meter) reread("meter", { meter }, { kind: "meter", tool, same: false });
    });
  }

  const best = bestOf(ways);
  return { statements, ways: best, otherwise: best.length ? null : statement("settling.nothing") };
}

/** @param {Reread[]} ways @returns {Reread[]} the fewest minutes for a decision first, none that
 * another betters in both */
function bestOf(ways) {
  /** @type {Reread[]} */
  const best = [];
  ways.filter(({ chance }) => chance >= LEAST_CHANCE)
    .sort((a, b) => a.minutes / a.chance - b.minutes / b.chance)
    .forEach((way) => {
      if (best.every(({ chance, minutes }) => way.chance > chance || way.minutes < minutes)) best.push(way);
    });
  return best.slice(0, MOST_SHOWN);
}
