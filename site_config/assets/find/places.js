// Texts in order, each once, and where each stands: what is typed is looked up, not looked for. Pure.

/** @typedef {{texts: string[], holders: number[][], count: number}} Places count: of who may hold one */

/** @param {Map<string, number[]>} held @param {string} text
 * @returns {number[]} who holds it, to be added to */
export function listOf(held, text) {
  let list = held.get(text);
  if (!list) held.set(text, list = []);
  return list;
}

/** @param {number[]} list @param {number} holder who may come often, but not again after another */
export function add(list, holder) {
  if (list[list.length - 1] !== holder) list.push(holder);
}

/** @param {Map<string, number[]>} held @param {number} count @returns {Places} */
export function inPlaces(held, count) {
  const texts = Array.from(held.keys()).sort();
  return { texts, holders: texts.map((text) => listOf(held, text)), count };
}

/** @param {string[]} texts in order @param {string} text
 * @returns {number} the place of the first that is not before it */
export function placeOf(texts, text) {
  let low = 0;
  let high = texts.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (texts[middle] < text) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** @param {string[]} texts in order @param {string} text
 * @param {function(number): void} each called with the place of each that begins so */
export function beginning(texts, text, each) {
  for (let at = placeOf(texts, text); at < texts.length && texts[at].startsWith(text); at++) each(at);
}
