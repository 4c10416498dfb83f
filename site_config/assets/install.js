// Keeps a whole release on this phone: asks the host, downloads, hands over to the worker. Says nothing by itself.
(function (Ohm) {
  "use strict";
  var ASK_AGAIN_MS = 10 * 60 * 1000;
  var ANSWER_MS = 3000;
  var NEWEST_KEPT = 3;
  var kept = Ohm.keptRelease;
  var CHECKED = "ohm.checked " + kept.scope;
  var CONFIRMED = "ohm.confirmed " + kept.scope;
  var live = document.querySelector('script[src*="/_ohmfolio/"]');

  /**
   * @typedef {object} CopyState
   * @property {""|"folder"|"cannot"|"serving"} cannot why nothing can be kept here
   * @property {?{have: number, of: number}} whole how much of this page's release is here
   * @property {?object} ready a newer release that is whole here and waits to be used
   * @property {?{done: number, of: number}} getting a download that runs
   * @property {string} trouble why the last download or check stopped
   * @property {number} checked when the host was last heard, ms since 1970
   * @property {number} confirmed when the host last had nothing newer than this page's release
   * @property {?boolean} lasting whether the browser promised to keep it
   * @property {boolean} hostOlder @property {boolean} freed @property {boolean} wanted a tap is wanted
   */
  var state = { cannot: "", whole: null, ready: null, getting: null, trouble: "", lasting: null,
    checked: Number(Ohm.remembered(CHECKED)) || 0, confirmed: confirmed(), hostOlder: false, freed: false, wanted: false };
  if (!/^https?:$/.test(location.protocol)) state.cannot = "folder";
  else if (live) state.cannot = "serving";
  else if (!("serviceWorker" in navigator && globalThis.caches && crypto.subtle)) state.cannot = "cannot";

  /** When the host last named this page's release, or an older one, as its newest. */
  function confirmed() { return Ohm.release ? confirmations()[Ohm.release.name] || 0 : 0; }
  function confirmations() {
    try { return JSON.parse(Ohm.remembered(CONFIRMED)) || {}; } catch (broken) { return {}; }
  }
  function confirm(newest) {
    var now = Date.now();
    var told = {};
    told[newest.name] = now;
    told[Ohm.release.name] = isOlder(newest, Ohm.release) || newest.name === Ohm.release.name ? now : confirmed();
    Ohm.remember(CONFIRMED, JSON.stringify(told));
  }

  function changed(told) {
    Object.assign(state, told);
    document.dispatchEvent(new CustomEvent("ohm:copy"));
  }

  function alone(work) {
    return navigator.locks ? navigator.locks.request("ohmfolio " + kept.scope, work) : work();
  }

  /** A host never takes a phone back: a lower number, or an earlier day of the same number. */
  function isOlder(one, other) {
    return one.number < other.number || (one.number === other.number && one.date < other.date);
  }

  /**
   * Bring the host's worker past every cache. A host that goes by date and size takes one worker for
   * another, and the browser's own question would then be answered "not modified".
   */
  async function refreshWorker() {
    var told = await fetch(kept.scope + "worker.js", { cache: "reload" });
    return told.ok ? told.text() : "";
  }

  async function registered() {
    return navigator.serviceWorker.register(kept.scope + "worker.js", { scope: kept.scope, updateViaCache: "none" });
  }

  /** The release that the worker hands out, if its list is still here. */
  async function serving() {
    var registration = await navigator.serviceWorker.getRegistration(kept.scope);
    var name = registration && registration.active ? await which(registration.active) : null;
    return name && await kept.list(name) ? name : null;
  }

  function which(worker) {
    return new Promise(function (resolve) {
      var line = new MessageChannel();
      line.port1.onmessage = function (event) { resolve(event.data); };
      // A worker that lets the phone go does not answer.
      setTimeout(resolve, ANSWER_MS, null);
      worker.postMessage("which", [line.port2]);
    });
  }

  async function look() {
    var registration = await navigator.serviceWorker.getRegistration(kept.scope);
    var name = await serving();
    var ready = null;
    if (registration && registration.waiting) {
      ready = (await newestLists()).find(function (one) { return one.name !== name && one.name !== Ohm.release.name; });
    } else if (name && name !== Ohm.release.name && !navigator.serviceWorker.controller) {
      // This page came past the worker, which has a newer release by now.
      ready = Object.assign({ name: name }, (await kept.list(name)).release);
    }
    var whole = await kept.whole(Ohm.release.name);
    changed({ whole: name ? whole : null, ready: ready || null,
      lasting: navigator.storage && navigator.storage.persisted ? await navigator.storage.persisted() : null });
  }

  async function newestLists() {
    var names = Array.from(await kept.all()).filter(function (one) { return one.startsWith("list-"); });
    var lists = await Promise.all(names.map(async function (one) {
      var told = await kept.list(one.slice(5));
      return Object.assign({ name: one.slice(5), files: 0 }, told.release);
    }));
    return lists.sort(function (a, b) { return isOlder(a, b) ? 1 : -1; });
  }

  async function bring(newest) {
    var name = await serving();
    var whole = await kept.whole(newest.name);
    if (!whole || whole.have < whole.of) {
      var older = name && name !== newest.name ? name : null;
      await Ohm.download(newest, older, function (done, of) { changed({ getting: { done: done, of: of } }); });
    }
    await handOver(newest, name);
  }

  async function handOver(newest, name) {
    // Half uploaded: the release is here, its worker is not at the host yet.
    if (name !== newest.name && !(await refreshWorker()).includes(newest.name)) return;
    var registration = await registered();
    if (name !== newest.name && registration.active) await registration.update();
    await settled(registration, Boolean(registration.active));
    if (!navigator.serviceWorker.controller && registration.active && await serving() === Ohm.release.name) {
      registration.active.postMessage("claim");
    }
    // With no older release left here there is nothing to protect: no need to wait for a tap.
    if (!name && registration.waiting && registration.active) Ohm.copy.use();
    if (navigator.storage && navigator.storage.persist) await navigator.storage.persist();
    if (name !== newest.name || !(await kept.begun(newest.name))) return;
    var names = (await newestLists()).slice(0, NEWEST_KEPT).map(function (one) { return one.name; });
    await kept.tidy(names.concat(name));
  }

  /** A first worker is waited for until it works; a later one until it waits for its turn. */
  function settled(registration, later) {
    var worker = registration.installing || (later ? null : registration.waiting);
    if (!worker) return Promise.resolve();
    return new Promise(function (resolve) {
      function look() {
        if (/^(activated|redundant)$/.test(worker.state) || (later && worker.state === "installed")) resolve();
      }
      worker.addEventListener("statechange", look);
      look();
    });
  }

  async function check(forced) {
    if (state.cannot || !Ohm.release) return;
    await look();
    var whole = state.whole && state.whole.have === state.whole.of;
    if (!forced && whole && Date.now() - state.checked < ASK_AGAIN_MS) return;
    try {
      var newest = await Ohm.askNewest();
      Ohm.remember(CHECKED, String(Date.now()));
      confirm(newest);
      changed({ checked: Date.now(), confirmed: confirmed(), freed: !newest.offline, hostOlder: false, trouble: "" });
      if (!newest.offline) {
        var old = await navigator.serviceWorker.getRegistration(kept.scope);
        if (old) {
          await refreshWorker();
          await old.update();
        } else {
          await kept.forget();
        }
        return;
      }
      var name = await serving();
      if (name && name !== newest.name && isOlder(newest, (await kept.list(name)).release)) {
        changed({ hostOlder: true });
      } else if (!name && !forced && navigator.connection && navigator.connection.saveData) {
        changed({ wanted: true });
        return;
      } else {
        changed({ wanted: false });
        await alone(function () { return bring(newest); });
      }
    } catch (failed) {
      changed({ trouble: failed.message || "host" });
    }
    changed({ getting: null });
    await look();
  }

  var running = null, next = null;
  Ohm.copy = {
    state: state,
    /** Ask the host, now or when it is time. @param {boolean} [forced] @returns {Promise<void>} */
    check: function (forced) {
      if (running && forced) {
        // What runs may have asked the host already, or not at all: who asks now is answered anew.
        if (!next) next = running.then(function () { next = null; return Ohm.copy.check(true); });
        return next;
      }
      if (!running) running = check(forced).finally(function () { running = null; });
      return running;
    },
    /** Use the newer release: the worker changes, and every window loads again. */
    use: async function () {
      var registration = await navigator.serviceWorker.getRegistration(kept.scope);
      if (registration && registration.waiting) registration.waiting.postMessage("switch");
      else location.reload();
    },
  };
  if (state.cannot) return;

  var manifest = document.createElement("link");
  manifest.rel = "manifest";
  manifest.href = kept.scope + "manifest.webmanifest";
  document.head.append(manifest);

  // The first worker takes over a page of its own release; the next one is of another release.
  var controlled = Boolean(navigator.serviceWorker.controller);
  navigator.serviceWorker.addEventListener("controllerchange", function () {
    if (controlled) location.reload();
    controlled = true;
  });
  addEventListener("load", function () { Ohm.copy.check(); });
  addEventListener("online", function () { Ohm.copy.check(); });
  document.addEventListener("visibilitychange", function () {
    if (document.visibilityState === "visible") Ohm.copy.check();
  });
})((globalThis.Ohm = globalThis.Ohm || {}));
