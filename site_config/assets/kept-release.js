// What of a release is kept on this phone: contents by checksum, lists by name. Nothing here touches the page.
(function (Ohm) {
  "use strict";
  var NAME_LENGTH = 12;
  var scope = new URL(".", document.querySelector("[data-ohm-root]").href).href;
  var STORE = "ohmfolio " + scope;

  function open() { return caches.open(STORE); }
  function address(name) { return scope + ".kept/" + name; }

  async function text(name) {
    var found = await (await open()).match(address(name));
    return found ? found.text() : null;
  }
  async function put(name, content) { await (await open()).put(address(name), new Response(content)); }

  /** @returns {Promise<Set<string>>} everything that is kept, by name */
  async function all() {
    var keys = await (await open()).keys();
    return new Set(keys.map(function (one) { return one.url.slice(address("").length); }));
  }

  async function list(name) {
    var told = await text("list-" + name);
    return told ? JSON.parse(told) : null;
  }

  /** @returns {Promise<?{have: number, of: number}>} how much of a release is here */
  async function whole(name) {
    var told = await list(name);
    if (!told) return null;
    var here = await all();
    var paths = Object.keys(told.files);
    return { have: paths.filter(function (path) { return here.has(told.files[path]); }).length, of: paths.length };
  }

  Ohm.keptRelease = {
    scope: scope,
    all: all,
    list: list,
    whole: whole,
    /** @returns {Promise<?Uint8Array>} */
    content: async function (sum) {
      var found = await (await open()).match(address(sum));
      return found ? new Uint8Array(await found.arrayBuffer()) : null;
    },
    /** Keep a content, if it has its checksum. @param {string} sum @param {Uint8Array} content */
    keep: async function (sum, content) {
      if ((await Ohm.sumOf(content)) !== sum) throw new Ohm.Refused("damaged");
      await put(sum, content);
    },
    /** A list that is known but not committed: a retry then needs no more than what is missing. */
    begun: async function (name) {
      var told = await text("begun-" + name);
      return told ? JSON.parse(told) : null;
    },
    begin: async function (name, raw) {
      if ((await Ohm.sumOf(raw)).slice(0, NAME_LENGTH) !== name) throw new Ohm.Refused("damaged");
      await put("begun-" + name, raw);
    },
    /** The last write of a download, and the one that counts. */
    commit: async function (name) {
      var raw = await text("begun-" + name);
      var here = await all();
      var files = JSON.parse(raw).files;
      if (!Object.keys(files).every(function (path) { return here.has(files[path]); })) throw new Ohm.Refused("missing");
      await put("list-" + name, raw);
    },
    /** Throw away what none of these releases needs. @param {string[]} names */
    tidy: async function (names) {
      var wanted = new Set(["serving"]);
      for (var name of names) {
        var told = await list(name);
        if (!told) continue;
        wanted.add("list-" + name);
        Object.keys(told.files).forEach(function (path) { wanted.add(told.files[path]); });
      }
      var store = await open();
      for (var one of await all()) if (!wanted.has(one)) await store.delete(address(one));
    },
    text: text,
    forget: function () { return caches.delete(STORE); },
  };

  /** Why a download stopped: damaged, missing, host, slow, full. */
  Ohm.Refused = class extends Error {};
})((globalThis.Ohm = globalThis.Ohm || {}));
