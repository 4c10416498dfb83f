// Volts at a sensor's plug: which resistance do they stand for? Mirrors kb/numbers/plug_volts.py.

/** All five: common practice, no source. */
export const VOLTMETER_SHARE = 0.005;
const VOLTMETER_DIGITS = 2;
const VOLTMETER_OHM = 10e6;
export const PULL_UP_SHARE = 0.01;
export const SUPPLY_SHARE = 0.02;

/**
 * The sensor that volts stand for: Infinity where they cannot be told from the supply, 0 where not
 * from nothing; and the highest resistance that could be told from an open circuit.
 * @typedef {{rOhm: number, halfOhm: number, reachOhm: number}} PlugReading
 */

/** @param {number} volts @param {{digitV: number}} last what its last place is worth
 * @returns {number} half-width in V */
export const voltmeterHalfV = (volts, { digitV }) =>
  Math.abs(volts) * VOLTMETER_SHARE + VOLTMETER_DIGITS * digitV;

/**
 * U = U0 R/(R + Rp), R here with the voltmeter beside it.
 * @param {number} volts
 * @param {{halfV: number, supplyV: number, supplyHalfV: number, pullUpOhm: number}} board
 * @returns {?PlugReading} nothing where the volts are above what the board feeds
 */
export function sensorAtPlug(volts, { halfV, supplyV, supplyHalfV, pullUpOhm }) {
  if (volts > supplyV + supplyHalfV + halfV) return null;
  const topV = supplyV - supplyHalfV - halfV;
  const reachOhm = aloneOhm(seenOhm(topV, supplyV, pullUpOhm));
  if (volts <= halfV) return { rOhm: 0, halfOhm: 0, reachOhm };
  const seen = seenOhm(volts, supplyV, pullUpOhm);
  const rOhm = aloneOhm(seen);
  if (volts >= topV || rOhm === Infinity) return { rOhm: Infinity, halfOhm: 0, reachOhm };
  const leftV = supplyV - volts;
  const terms = [
    (halfV * pullUpOhm * supplyV) / (leftV * leftV),
    (supplyHalfV * pullUpOhm * volts) / (leftV * leftV),
    PULL_UP_SHARE * seen,
  ];
  const halfOhm = Math.sqrt(terms.reduce((sum, term) => sum + term * term, 0)) *
    Math.pow(rOhm / seen, 2);
  return { rOhm, halfOhm, reachOhm };
}

/** @param {number} volts @param {number} supplyV @param {number} pullUpOhm */
function seenOhm(volts, supplyV, pullUpOhm) {
  return volts < supplyV ? (pullUpOhm * volts) / (supplyV - volts) : Infinity;
}

/** Take the voltmeter off again: what is seen is the sensor with the meter beside it.
 * @param {number} seen */
function aloneOhm(seen) {
  return seen >= VOLTMETER_OHM ? Infinity : (seen * VOLTMETER_OHM) / (VOLTMETER_OHM - seen);
}
