// Draw a job to practise: which machine, which code, what is hidden in it, how warm it stands.
// Mirrors kb/answers/practice_draw.py and kb/answers/practice_machine.py.

import { Seeded } from "../numbers/seeded.js";

/**
 * @typedef {import("../numbers/grid.js").Grid} Grid
 * A machine to practise on, as the notes know it. place: where a sensor rests, or nothing.
 * @typedef {{id: string, place: string,
 *   facts: import("./judged.js").SensorFacts}} PracticeSensor
 * @typedef {{id: string, windings: ?import("./winding-reading.js").WindingFacts,
 *   insulation: ?import("./insulation-tested.js").InsulationFacts}} PracticePart
 * check: sensor, look, board, motor or other; kinds: what may be hidden there.
 * @typedef {{sensor: string, part: string, share: number, minutes: number, check: string,
 *   kinds: string[]}} PracticeSuspect
 * suspects: first the one to check first; needsK: how far off the sensor must seem to bring the code.
 * @typedef {{id: string, suspects: PracticeSuspect[], sensor: string, partner: string,
 *   needsK: number[]}} PracticeCode
 * @typedef {{id: string, waitMin: number, drainedV: number, chargeV: number,
 *   sensors: Object<string, PracticeSensor>, parts: Object<string, PracticePart>,
 *   codes: PracticeCode[]}} PracticeMachine
 * A machine with one fault, today. by: K of a drift, Ω of a short or a leak, the pull-up against what
 * it should be, the share of turns that is shorted (1 for a break), the share of an insulation limit.
 * @typedef {{seed: number, machine: number, code: number, suspect: number, kind: string,
 *   sensor: string, partner: string, part: string, by: number, tilt: number, curve: string,
 *   winding: number, airC: number, placesC: Object<string, number>}} Hidden
 */

const AIR_C = [-5, 32];
const WARMER_K = [-1.5, 4];
const APART_K = [9, 14];
const LEAST_K = 6;
const MOST_K = 60;
const MOST_NEED_K = 30;
const LIMITS_OFF = 2;
const MORE_K = 8;
const OFF_ICE_C = 6;
const TILT = 0.02;
const SHORT_OHM = [0.2, 3];
const DAMP = [0.03, 0.4];
const DAMP_FROM_C = 12;
const TURNS = [0.3, 0.5];
const OF_MOTORS = ["winding", "damp"];
const OPEN_WINDINGS = 0.4;

/** @param {number} seed @param {number} stream
 * @returns {number} from −1 to 1: how far something strays in this job, of what it may */
export const luck = (seed, stream) => 2 * new Seeded(seed, stream).share() - 1;

/** @param {PracticeSensor} sensor @returns {string} where it rests: shared, or its own */
export const sitsAt = ({ place, id }) => place || id;

/** Codes are alike; of a code's suspects each comes by its share, of its kinds each alike.
 * @param {number} seed
 * @param {{machines: PracticeMachine[], curves: Object<string, Grid>}} notes
 * @returns {Hidden} @throws {RangeError} where nothing can be hidden in any machine */
export function drawJob(seed, { machines, curves }) {
  const draw = new Seeded(seed);
  /** @type {Array<[number, number]>} */
  const codes = [];
  machines.forEach((machine, i) => machine.codes.forEach((code, j) => {
    if (code.suspects.some(({ kinds }) => kinds.length)) codes.push([i, j]);
  }));
  const [at, number] = draw.chosen(codes);
  const machine = machines[at];
  const code = machine.codes[number];
  const place = draw.weighted(code.suspects.map(({ kinds, share }) => (kinds.length ? share : 0)));
  const suspect = code.suspects[place];
  const kind = draw.chosen(suspect.kinds);
  const airC = draw.between(AIR_C[0], AIR_C[1]);
  const ofMotor = OF_MOTORS.indexOf(kind) >= 0;
  /** @type {Hidden} */
  const hidden = {
    seed, machine: at, code: number, suspect: place, kind,
    sensor: ofMotor ? "" : suspect.sensor || code.sensor,
    partner: kind === "exchanged" ? code.partner : "",
    part: suspect.part, by: 0, tilt: 0, curve: "", winding: 0, airC,
    placesC: placesC(machine, draw, airC),
  };
  return ofMotor ? motorFault(hidden, machine, draw) : sensorFault(hidden, machine, draw, curves);
}

/** @param {PracticeSensor} sensor @param {number} tC */
const limitK = ({ facts }, tC) => Math.max(facts.curve.tolK(tC), facts.allowK || 0);

/** @param {PracticeMachine} machine @param {Seeded} draw @param {number} airC */
function placesC(machine, draw, airC) {
  /** @type {Object<string, number>} */
  const places = {};
  Object.keys(machine.sensors).forEach((id) => {
    const sensor = machine.sensors[id];
    const atC = airC + draw.between(WARMER_K[0], WARMER_K[1]);
    if (!(sitsAt(sensor) in places)) places[sitsAt(sensor)] = insideC(sensor, atC);
  });
  return places;
}

/** @param {PracticeSensor} sensor @param {number} tC
 * @returns {number} one that it meets in service, and that its curve holds for */
function insideC({ facts: { curve, meetsC } }, tC) {
  const [lowC, highC] = meetsC || [curve.lowC, curve.highC];
  return Math.min(Math.max(tC, lowC + 1, curve.lowC + 1), highC - 1, curve.highC - 1);
}

/** @param {Hidden} hidden @param {PracticeMachine} machine @param {Seeded} draw
 * @param {Object<string, Grid>} curves @returns {Hidden} */
function sensorFault(hidden, machine, draw, curves) {
  const sensor = machine.sensors[hidden.sensor];
  const { kind } = hidden;
  const atC = hidden.placesC[sitsAt(sensor)];
  const seemsC = atC + offK(hidden, machine, sensor, draw);
  const rOhm = sensor.facts.curve.beyondOhm(atC);
  const seemsOhm = sensor.facts.curve.beyondOhm(seemsC);
  if (kind === "exchanged") return apartIn(hidden, machine, draw);
  if (kind === "short") return { ...hidden, by: draw.between(SHORT_OHM[0], SHORT_OHM[1]) };
  if (kind === "wet-plug") return { ...hidden, by: 1 / (1 / seemsOhm - 1 / rOhm) };
  if (kind === "board-input") return { ...hidden, by: rOhm / seemsOhm };
  if (kind === "wrong-part") {
    const others = otherParts(hidden, machine, sensor, curves);
    if (others.length) return { ...hidden, curve: draw.chosen(others) };
  }
  if (kind === "drifted" || kind === "wrong-part") {
    // Where no other part would bring this code, the sensor has drifted instead.
    return { ...hidden, kind: "drifted", by: seemsC - atC, tilt: draw.between(-TILT, TILT) };
  }
  return hidden;
}

/** @param {number[]} needsK @returns {number[]} least K off, each way that would bring the code */
function sides(needsK) {
  return needsK.length ? needsK.filter((needK) => Math.abs(needK) <= MOST_NEED_K) : [-LEAST_K, LEAST_K];
}

/** @param {Hidden} hidden @param {PracticeMachine} machine @param {PracticeSensor} sensor
 * @param {Seeded} draw @returns {number} how far off it seems: enough for the code and whoever judges */
function offK(hidden, machine, sensor, draw) {
  let ways = sides(machine.codes[hidden.code].needsK);
  if (hidden.kind === "wet-plug") {
    // Water lies beside the sensor, so the ohms can only fall.
    ways = ways.filter((needK) => needK * (sensor.facts.curve.falling ? 1 : -1) > 0);
  }
  const needK = draw.chosen(ways.length ? ways : [LEAST_K]);
  const atC = hidden.placesC[sitsAt(sensor)];
  const leastK = Math.max(Math.abs(needK), LEAST_K, LIMITS_OFF * limitK(sensor, atC));
  return (leastK + draw.between(0, MORE_K)) * (needK > 0 ? 1 : -1);
}

/** @param {Hidden} hidden @param {PracticeMachine} machine @param {Seeded} draw
 * @returns {Hidden} with both sensors so far apart that the exchange shows */
function apartIn(hidden, machine, draw) {
  const own = machine.sensors[hidden.sensor];
  const other = machine.sensors[hidden.partner];
  const atC = Math.max(insideC(own, hidden.placesC[sitsAt(own)]), OFF_ICE_C);
  const awayC = atC + draw.between(APART_K[0], APART_K[1]);
  return { ...hidden, placesC: { ...hidden.placesC, [sitsAt(own)]: atC, [sitsAt(other)]: awayC } };
}

/** @param {Hidden} hidden @param {PracticeMachine} machine @param {PracticeSensor} sensor
 * @param {Object<string, Grid>} curves
 * @returns {string[]} curves of the notes that would bring the code here, and show in ice as well */
function otherParts(hidden, machine, { facts }, curves) {
  const atC = hidden.placesC[sitsAt(machine.sensors[hidden.sensor])];
  const ways = sides(machine.codes[hidden.code].needsK);
  const allowedK = LIMITS_OFF * Math.max(facts.curve.tolK(atC), facts.allowK || 0);
  return Object.keys(curves).sort().filter((name) => {
    const curve = curves[name];
    if (name === facts.curveId || curve.lowC > Math.min(0, atC) || curve.highC < atC) return false;
    const hereK = facts.curve.beyondC(curve.beyondOhm(atC)) - atC;
    const iceK = Math.abs(facts.curve.beyondC(curve.beyondOhm(0)));
    if (iceK < LEAST_K || iceK > MOST_K || Math.abs(hereK) < allowedK) return false;
    return ways.some((needK) => {
      const thatWayK = hereK * (needK > 0 ? 1 : -1);
      return thatWayK >= Math.abs(needK) && thatWayK <= MOST_K;
    });
  });
}

/** @param {Hidden} hidden @param {PracticeMachine} machine @param {Seeded} draw
 * @returns {Hidden} */
function motorFault(hidden, machine, draw) {
  if (hidden.kind === "damp") {
    // In the cold nobody corrects a reading, and damp passes for sound.
    return { ...hidden, by: draw.between(DAMP[0], DAMP[1]), airC: Math.max(hidden.airC, DAMP_FROM_C) };
  }
  const { windings } = machine.parts[hidden.part];
  const winding = draw.below(windings ? Object.keys(windings.pairs).length : 1);
  const broken = draw.share() < OPEN_WINDINGS;
  const share = draw.between(TURNS[0], TURNS[1]);
  return { ...hidden, winding, by: broken ? 1 : share };
}
