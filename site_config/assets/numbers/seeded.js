// Draws that a number settles, alike on every phone of a team. Mirrors kb/numbers/seeded.py.

/** Seeds that people tell each other have at most five figures. */
export const MOST_SEED = 99999;
const OUTPUTS = 0xffffffff;

/** MurmurHash3's finalizer (A. Appleby, 2011, public domain, from memory).
 * @param {number} word @returns {number} 32 bits in which neighbours are far apart */
export function mixed(word) {
  let h = word >>> 0;
  h ^= h >>> 16;
  h = Math.imul(h, 0x85ebca6b);
  h ^= h >>> 13;
  h = Math.imul(h, 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}

/** Xorshift 13, 17, 5 (G. Marsaglia, "Xorshift RNGs", 2003). */
export class Seeded {
  /** @param {number} seed a whole number from 0 @param {number} [stream] which row of its draws */
  constructor(seed, stream = 0) {
    // Nought is the one state that the generator never leaves.
    this._state = mixed(mixed(seed) + stream) || 1;
  }

  /** @returns {number} the next word, from 1 to 2^32 − 1 */
  word() {
    let x = this._state;
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    this._state = x >>> 0;
    return this._state;
  }

  /** Words past the last whole multiple of `count` are drawn anew, so that none is favoured.
   * @param {number} count @returns {number} one of 0 … count − 1 @throws {RangeError} of none */
  below(count) {
    if (!(count >= 1 && count <= OUTPUTS)) {
      throw new RangeError(`one of ${count} cannot be drawn; there are 1 to ${OUTPUTS}`);
    }
    const whole = OUTPUTS - (OUTPUTS % count);
    let drawn = this.word() - 1;
    while (drawn >= whole) drawn = this.word() - 1;
    return drawn % count;
  }

  /** @returns {number} from 0 to below 1 */
  share() { return (this.word() - 1) / OUTPUTS; }

  /** @param {number} low @param {number} high @returns {number} from low to below high */
  between(low, high) { return low + (high - low) * this.share(); }

  /** @template Item @param {Item[]} items @returns {Item} one of them @throws {RangeError} of none */
  chosen(items) { return items[this.below(items.length)]; }

  /** Algorithm P (D. Knuth, The Art of Computer Programming, volume 2).
   * @template Item @param {Item[]} items @returns {Item[]} them in an order as likely as any */
  shuffled(items) {
    const order = items.slice();
    for (let last = order.length - 1; last > 0; last -= 1) {
      const other = this.below(last + 1);
      [order[last], order[other]] = [order[other], order[last]];
    }
    return order;
  }

  /** @param {number[]} weights none below nought
   * @returns {number} the place of one, as often as its share of their sum */
  weighted(weights) {
    let left = this.share() * weights.reduce((sum, weight) => sum + weight, 0);
    for (let place = 0; place < weights.length; place += 1) {
      if (left < weights[place]) return place;
      left -= weights[place];
    }
    // What rounding has left over belongs to the last that can come at all.
    return weights.reduce((last, weight, place) => (weight > 0 ? place : last), 0);
  }
}
