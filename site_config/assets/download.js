// Brings a release onto this phone: verified byte by byte, a retry fetches only what is missing.
(function (Ohm) {
  "use strict";
  var TIMEOUT_MS = 20000;
  var AT_ONCE = 6;
  // Below this share of missing files, single files are less than the whole pack.
  var SINGLE_FILES_BELOW = 0.5;
  var kept = Ohm.keptRelease;

  /** @param {string} path @returns {Promise<Response>} from the host itself, never from a cache */
  async function asked(path) {
    var stop = new AbortController();
    var timer = setTimeout(function () { stop.abort(); }, TIMEOUT_MS);
    try {
      var told = await fetch(kept.scope + path, { cache: "no-store", signal: stop.signal });
      if (!told.ok) throw new Ohm.Refused("host");
      return { told: told, again: function () { clearTimeout(timer); timer = setTimeout(function () { stop.abort(); }, TIMEOUT_MS); },
        done: function () { clearTimeout(timer); } };
    } catch (failed) {
      clearTimeout(timer);
      throw refusal(failed);
    }
  }

  async function bytes(path) {
    var one = await asked(path);
    try { return new Uint8Array(await one.told.arrayBuffer()); }
    catch (failed) { throw refusal(failed); }
    finally { one.done(); }
  }

  function refusal(failed) {
    if (failed instanceof Ohm.Refused) return failed;
    if (failed.name === "QuotaExceededError") return new Ohm.Refused("full");
    if (failed.name === "AbortError") return new Ohm.Refused("slow");
    return new Ohm.Refused("host");
  }

  /** @returns {Promise<object>} what the host has, in a few hundred bytes */
  Ohm.askNewest = async function () {
    try { return JSON.parse(new TextDecoder().decode(await bytes("newest.json"))); }
    catch (failed) { throw refusal(failed); }
  };

  /**
   * Download a release and commit it.
   * @param {object} newest what the host said @param {?string} older a release that is whole here
   * @param {function(number, number)} progress how many of how many files are here
   */
  Ohm.download = async function (newest, older, progress) {
    try {
      await bring(newest, older, progress);
      await kept.commit(newest.name);
    } catch (failed) { throw refusal(failed); }
  };

  async function bring(newest, older, progress) {
    var begun = await kept.begun(newest.name);
    var packs = typeof DecompressionStream === "function";
    // What was begun goes on file by file, unless most of it is missing still.
    if (packs && !(begun && (await missing(begun)).share < SINGLE_FILES_BELOW)) {
      var way = older && newest.packs.from[older] ? "from-" + older : "all";
      try { return await unpack(newest, way, older, progress); }
      catch (failed) {
        // A full phone stays full. Anything else may be this one file: try the long way.
        if (refusal(failed).message === "full" || !(await reachable())) throw failed;
      }
    }
    begun = begun || await kept.begun(newest.name);
    if (!begun) {
      var raw = await bytes("release.json");
      await kept.begin(newest.name, raw);
      begun = await kept.begun(newest.name);
    }
    await singly(begun, progress);
  }

  async function reachable() {
    try { await bytes("newest.json"); return true; } catch (failed) { return false; }
  }

  async function missing(list) {
    var here = await kept.all();
    var paths = Object.keys(list.files);
    var seen = new Set();
    var wanted = paths.filter(function (path) {
      var sum = list.files[path];
      if (here.has(sum) || seen.has(sum)) return false;
      seen.add(sum);
      return true;
    });
    return { paths: wanted, of: paths.length, share: wanted.length / paths.length };
  }

  async function singly(list, progress) {
    var left = await missing(list);
    var next = 0, done = left.of - left.paths.length;
    progress(done, left.of);
    async function hand() {
      while (next < left.paths.length) {
        var path = left.paths[next++];
        await kept.keep(list.files[path], await bytes(path));
        progress(++done, left.of);
      }
    }
    var hands = [];
    for (var i = 0; i < AT_ONCE; i++) hands.push(hand().catch(function (failed) { next = Infinity; throw failed; }));
    // All hands come to rest before the failure is told: none may write into the next try.
    var failed = (await Promise.allSettled(hands)).find(function (one) { return one.reason; });
    if (failed) throw failed.reason;
  }

  async function unpack(newest, way, older, progress) {
    var one = await asked("releases/" + newest.name + "/" + way + ".pack");
    var unpacker = Ohm.unpacker();
    var of = newest.files;
    var done = 0;
    try {
      var stream = await plain(one);
      var reader = stream.getReader();
      for (;;) {
        var part = await reader.read();
        if (part.done) break;
        one.again();
        for (var frame of unpacker.take(part.value)) {
          await take(newest, frame, older);
          progress(Math.min(done++, of), of);
        }
      }
      if (!unpacker.done()) throw new Ohm.Refused("damaged");
    } finally { one.done(); }
  }

  /** Some hosts undo the compression on the way; the first two bytes tell. */
  async function plain(one) {
    var parts = one.told.body.tee();
    var reader = parts[0].getReader();
    var first = (await reader.read()).value || [];
    reader.cancel().catch(function () {});
    return first[0] === 0x1f && first[1] === 0x8b
      ? parts[1].pipeThrough(new DecompressionStream("gzip")) : parts[1];
  }

  async function take(newest, frame, older) {
    var content = frame.body;
    if (frame.head.from) {
      var old = frame.head.from === "list" ? await listText(older) : await kept.content(frame.head.from);
      if (!old) throw new Ohm.Refused("missing");
      content = Ohm.patched(old, frame.head.steps, frame.body);
    }
    if (frame.head.sum === "list") await kept.begin(newest.name, content);
    else await kept.keep(frame.head.sum, content);
  }

  async function listText(older) {
    return new TextEncoder().encode(await kept.text("list-" + older));
  }
})((globalThis.Ohm = globalThis.Ohm || {}));
