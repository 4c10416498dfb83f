// Reads a pack of contents as it arrives. Mirrors generators/release/bundle.py and delta.py. No page, no network.
(function (Ohm) {
  "use strict";

  /**
   * Make a content from an older one. Steps come in threes: begin, how many bytes from there, how
   * many fresh bytes after them.
   * @param {Uint8Array} old @param {number[]} steps @param {Uint8Array} fresh @returns {Uint8Array}
   */
  Ohm.patched = function (old, steps, fresh) {
    var size = fresh.length;
    for (var i = 1; i < steps.length; i += 3) size += steps[i];
    var made = new Uint8Array(size);
    var at = 0, read = 0;
    for (i = 0; i < steps.length; i += 3) {
      made.set(old.subarray(steps[i], steps[i] + steps[i + 1]), at);
      at += steps[i + 1];
      made.set(fresh.subarray(read, read + steps[i + 2]), at);
      at += steps[i + 2];
      read += steps[i + 2];
    }
    return made;
  };

  /**
   * Take bytes in as they come and hand out whole frames: a line of JSON, then so many bytes.
   * @returns {{take: function(Uint8Array): Array<{head: object, body: Uint8Array}>, done: function(): boolean}}
   */
  Ohm.unpacker = function () {
    var waiting = [];
    var length = 0;
    var head = null;

    function joined() {
      if (waiting.length === 1) return waiting[0];
      var all = new Uint8Array(length);
      var at = 0;
      waiting.forEach(function (one) { all.set(one, at); at += one.length; });
      waiting = [all];
      return all;
    }

    return {
      take: function (bytes) {
        var frames = [];
        waiting.push(bytes);
        length += bytes.length;
        // Joining again for every piece that arrives would cost the square of a large content.
        if (head && length < head.size) return frames;
        var all = joined();
        for (;;) {
          if (!head) {
            var end = all.indexOf(10);
            if (end < 0) break;
            head = JSON.parse(new TextDecoder().decode(all.subarray(0, end)));
            all = all.subarray(end + 1);
          }
          if (all.length < head.size) break;
          frames.push({ head: head, body: all.slice(0, head.size) });
          all = all.subarray(head.size);
          head = null;
        }
        waiting = [all];
        length = all.length;
        return frames;
      },
      done: function () { return !head && length === 0; },
    };
  };

  /** @param {ArrayBuffer|Uint8Array} content @returns {Promise<string>} its SHA-256, as the list writes it */
  Ohm.sumOf = function (content) {
    return crypto.subtle.digest("SHA-256", content).then(function (hash) {
      return Array.from(new Uint8Array(hash), function (one) {
        return one.toString(16).padStart(2, "0");
      }).join("");
    });
  };
})((globalThis.Ohm = globalThis.Ohm || {}));
