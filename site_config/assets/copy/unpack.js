// Reads a pack of contents as it arrives. Mirrors generators/release/bundle.py and delta.py. No
// page, no network.

/**
 * Make a content from an older one. Steps come in threes: begin, how many bytes from there, how
 * many fresh bytes after them.
 * @param {Uint8Array} old @param {number[]} steps @param {Uint8Array} fresh @returns {Uint8Array}
 */
export function patched(old, steps, fresh) {
  let size = fresh.length;
  for (let i = 1; i < steps.length; i += 3) size += steps[i];
  const made = new Uint8Array(size);
  let at = 0, read = 0;
  for (let i = 0; i < steps.length; i += 3) {
    made.set(old.subarray(steps[i], steps[i] + steps[i + 1]), at);
    at += steps[i + 1];
    made.set(fresh.subarray(read, read + steps[i + 2]), at);
    at += steps[i + 2];
    read += steps[i + 2];
  }
  return made;
}

/**
 * What stands before a content: its size and checksum, "list" for the release's own list; in a
 * difference also from which content, and by which steps.
 * @typedef {{size: number, sum: string, from?: string, steps?: number[]}} FrameHead
 * @typedef {{head: FrameHead, body: Uint8Array}} Frame
 */

/**
 * Take bytes in as they come and hand out whole frames: a line of JSON, then so many bytes.
 * @returns {{take: function(Uint8Array): Frame[], done: function(): boolean}}
 */
export function unpacker() {
  /** @type {Uint8Array[]} */
  let waiting = [];
  let length = 0;
  /** @type {?FrameHead} */
  let head = null;

  function joined() {
    if (waiting.length === 1) return waiting[0];
    const all = new Uint8Array(length);
    let at = 0;
    waiting.forEach((piece) => { all.set(piece, at); at += piece.length; });
    waiting = [all];
    return all;
  }

  return {
    take(bytes) {
      /** @type {Frame[]} */
      const frames = [];
      waiting.push(bytes);
      length += bytes.length;
      // Joining again for every piece that arrives would cost the square of a large content.
      if (head && length < head.size) return frames;
      let all = joined();
      for (;;) {
        if (!head) {
          const end = all.indexOf(10);
          if (end < 0) break;
          head = headOf(all.subarray(0, end));
          all = all.subarray(end + 1);
        }
        const { size } = head;
        if (all.length < size) break;
        frames.push({ head, body: all.slice(0, size) });
        all = all.subarray(size);
        head = null;
      }
      waiting = [all];
      length = all.length;
      return frames;
    },
    done() { return !head && length === 0; },
  };
}

/** @param {Uint8Array} line @returns {FrameHead} */
function headOf(line) {
  return JSON.parse(new TextDecoder().decode(line));
}

/** @param {ArrayBuffer|Uint8Array} content @returns {Promise<string>} its SHA-256, as the list writes it */
export function sumOf(content) {
  return crypto.subtle.digest("SHA-256", content).then((hash) => {
    return Array.from(new Uint8Array(hash), (byte) => {
      return byte.toString(16).padStart(2, "0");
    }).join("");
  });
}
