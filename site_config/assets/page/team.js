// What the team measures with, as the floor of answers asks for it.

/** @typedef {import("../answers/tools.js").Kit} Kit */
/** @typedef {import("../answers/tools.js").Tools} Tools */

/** @param {string} id @returns {import("../answers/tools.js").NamedMeter} */
const namedMeter = (id) => ({
  id, name: OhmTeam.meters[id].name, meter: OhmTeam.meters[id], ratedV: OhmTeam.meters[id].rated_v,
});

/** @param {string} id @returns {import("../answers/tools.js").NamedThermometer} */
const namedThermometer = (id) => ({
  id, name: OhmTeam.thermometers[id].name, thermometer: OhmTeam.thermometers[id],
});

/** @returns {Kit} the team's usual instruments first */
export const kit = () => ({
  meters: Object.keys(OhmTeam.meters).map(namedMeter),
  thermometers: Object.keys(OhmTeam.thermometers).map(namedThermometer),
});

/** @param {{meter?: string, thermometer?: string, how?: string, sister?: string,
 *   sister_curve?: string}} chosen ids, the placement, and what a sister in the same cup reads
 * @returns {Tools} an instrument that the notes no longer hold is none */
export const toolsOf = ({
  meter = "", thermometer = "", how = "held-on", sister = "", sister_curve: sisterCurve = "",
}) => ({
  meter: meter in OhmTeam.meters ? namedMeter(meter) : null,
  thermometer: thermometer in OhmTeam.thermometers ? namedThermometer(thermometer) : null,
  placement: how, sister, sisterCurve,
});

/** @returns {?number} below this the team calls a reading a short */
export const teamShortOhm = () => OhmTeam.short_ohm;
