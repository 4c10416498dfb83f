// Volts at the plug, and a sensor read while still plugged in. Mirrors kb/numbers/divider.py.

/** @param {number} rOhm @param {{otherOhm: number}} with Infinity is nothing connected
 * @returns {number} Ω of two in parallel */
export const parallelOhm = (rOhm, { otherOhm }) => 1 / (1 / rOhm + 1 / otherOhm);

/**
 * @param {number} rOhm the sensor; Infinity for a plug pulled off
 * @param {{supplyV: number, pullUpOhm: number, voltmeterOhm?: number}} board
 * @returns {number} direct volts across the sensor fed through the board's pull-up
 */
export function voltsAtPlug(rOhm, { supplyV, pullUpOhm, voltmeterOhm = Infinity }) {
  const seen = parallelOhm(rOhm, { otherOhm: voltmeterOhm });
  return supplyV * (seen === Infinity ? 1 : seen / (seen + pullUpOhm));
}

/**
 * @param {number} readOhm @param {{pullUpOhm: number}} board
 * @returns {?number} the sensor's Ω had the pull-up been in parallel; null where it cannot be
 */
export function sensorFromParallelOhm(readOhm, { pullUpOhm }) {
  if (!(readOhm > 0 && readOhm < pullUpOhm)) return null;
  return (readOhm * pullUpOhm) / (pullUpOhm - readOhm);
}
