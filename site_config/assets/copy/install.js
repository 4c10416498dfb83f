// Keeps a whole release on this phone: asks the host, downloads, hands over to the worker. Says nothing by itself.

import { remember, remembered } from "../look.js";
import { el } from "../page/element.js";
import { askNewest, download } from "./download.js";
import { keptRelease } from "./kept-release.js";

const ASK_AGAIN_MS = 10 * 60 * 1000;
const ANSWER_MS = 3000;
const NEWEST_KEPT = 3;
const CHECKED = `ohm.checked ${keptRelease.scope}`;
const CONFIRMED = `ohm.confirmed ${keptRelease.scope}`;
const live = document.querySelector('script[src*="/_ohmfolio/"]');

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
const state = { cannot: "", whole: null, ready: null, getting: null, trouble: "", lasting: null,
  checked: Number(remembered(CHECKED)) || 0, confirmed: confirmed(), hostOlder: false, freed: false, wanted: false };
if (!/^https?:$/.test(location.protocol)) state.cannot = "folder";
else if (live) state.cannot = "serving";
else if (!("serviceWorker" in navigator && globalThis.caches && crypto.subtle)) state.cannot = "cannot";

/** When the host last named this page's release, or an older one, as its newest. */
function confirmed() { return globalThis.Ohm.release ? confirmations()[globalThis.Ohm.release.name] || 0 : 0; }
function confirmations() {
  try { return JSON.parse(remembered(CONFIRMED)) || {}; } catch (broken) { return {}; }
}
function confirm(newest) {
  const now = Date.now();
  const told = {};
  told[newest.name] = now;
  told[globalThis.Ohm.release.name] = isOlder(newest, globalThis.Ohm.release) || newest.name === globalThis.Ohm.release.name ? now : confirmed();
  remember(CONFIRMED, JSON.stringify(told));
}

function changed(told) {
  Object.assign(state, told);
  document.dispatchEvent(new CustomEvent("ohm:copy"));
}

function alone(work) {
  return navigator.locks ? navigator.locks.request(`ohmfolio ${keptRelease.scope}`, work) : work();
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
  const told = await fetch(`${keptRelease.scope}worker.js`, { cache: "reload" });
  return told.ok ? told.text() : "";
}

async function registered() {
  return navigator.serviceWorker.register(`${keptRelease.scope}worker.js`, { scope: keptRelease.scope, updateViaCache: "none" });
}

/** The release that the worker hands out, if its list is still here. */
async function serving() {
  const registration = await navigator.serviceWorker.getRegistration(keptRelease.scope);
  const name = registration && registration.active ? await which(registration.active) : null;
  return name && await keptRelease.list(name) ? name : null;
}

function which(worker) {
  return new Promise((resolve) => {
    const line = new MessageChannel();
    line.port1.onmessage = (event) => { resolve(event.data); };
    // A worker that lets the phone go does not answer.
    setTimeout(resolve, ANSWER_MS, null);
    worker.postMessage("which", [line.port2]);
  });
}

async function look() {
  const registration = await navigator.serviceWorker.getRegistration(keptRelease.scope);
  const name = await serving();
  let ready = null;
  if (registration && registration.waiting) {
    ready = (await newestLists()).find((one) => one.name !== name && one.name !== globalThis.Ohm.release.name);
  } else if (name && name !== globalThis.Ohm.release.name && !navigator.serviceWorker.controller) {
    // This page came past the worker, which has a newer release by now.
    ready = Object.assign({ name }, (await keptRelease.list(name)).release);
  }
  const whole = await keptRelease.whole(globalThis.Ohm.release.name);
  changed({ whole: name ? whole : null, ready: ready || null,
    lasting: navigator.storage && navigator.storage.persisted ? await navigator.storage.persisted() : null });
}

async function newestLists() {
  const names = Array.from(await keptRelease.all()).filter((one) => one.startsWith("list-"));
  const lists = await Promise.all(names.map(async (one) => {
    const told = await keptRelease.list(one.slice(5));
    return Object.assign({ name: one.slice(5), files: 0 }, told.release);
  }));
  return lists.sort((a, b) => isOlder(a, b) ? 1 : -1);
}

async function bring(newest) {
  const name = await serving();
  const whole = await keptRelease.whole(newest.name);
  if (!whole || whole.have < whole.of) {
    const older = name && name !== newest.name ? name : null;
    await download(newest, older, (done, of) => { changed({ getting: { done, of } }); });
  }
  await handOver(newest, name);
}

async function handOver(newest, name) {
  // Half uploaded: the release is here, its worker is not at the host yet.
  if (name !== newest.name && !(await refreshWorker()).includes(newest.name)) return;
  const registration = await registered();
  if (name !== newest.name && registration.active) await registration.update();
  await settled(registration, Boolean(registration.active));
  if (!navigator.serviceWorker.controller && registration.active && await serving() === globalThis.Ohm.release.name) {
    registration.active.postMessage("claim");
  }
  // With no older release left here there is nothing to protect: no need to wait for a tap.
  if (!name && registration.waiting && registration.active) copy.use();
  if (navigator.storage && navigator.storage.persist) await navigator.storage.persist();
  if (name !== newest.name || !(await keptRelease.begun(newest.name))) return;
  const names = (await newestLists()).slice(0, NEWEST_KEPT).map((one) => one.name);
  await keptRelease.tidy(names.concat(name));
}

/** A first worker is waited for until it works; a later one until it waits for its turn. */
function settled(registration, later) {
  const worker = registration.installing || (later ? null : registration.waiting);
  if (!worker) return Promise.resolve();
  return new Promise((resolve) => {
    function look() {
      if (/^(activated|redundant)$/.test(worker.state) || (later && worker.state === "installed")) resolve();
    }
    worker.addEventListener("statechange", look);
    look();
  });
}

async function check(forced) {
  if (state.cannot || !globalThis.Ohm.release) return;
  await look();
  const whole = state.whole && state.whole.have === state.whole.of;
  if (!forced && whole && Date.now() - state.checked < ASK_AGAIN_MS) return;
  try {
    const newest = await askNewest();
    remember(CHECKED, String(Date.now()));
    confirm(newest);
    changed({ checked: Date.now(), confirmed: confirmed(), freed: !newest.offline, hostOlder: false, trouble: "" });
    if (!newest.offline) {
      const old = await navigator.serviceWorker.getRegistration(keptRelease.scope);
      if (old) {
        await refreshWorker();
        await old.update();
      } else {
        await keptRelease.forget();
      }
      return;
    }
    const name = await serving();
    if (name && name !== newest.name && isOlder(newest, (await keptRelease.list(name)).release)) {
      changed({ hostOlder: true });
    } else if (!name && !forced && navigator.connection && navigator.connection.saveData) {
      changed({ wanted: true });
      return;
    } else {
      changed({ wanted: false });
      await alone(() => bring(newest));
    }
  } catch (failed) {
    changed({ trouble: failed.message || "host" });
  }
  changed({ getting: null });
  await look();
}

let running = null, next = null;
export const copy = {
  state,
  /** Ask the host, now or when it is time. @param {boolean} [forced] @returns {Promise<void>} */
  check(forced) {
    if (running && forced) {
      // What runs may have asked the host already, or not at all: who asks now is answered anew.
      if (!next) next = running.then(() => { next = null; return copy.check(true); });
      return next;
    }
    if (!running) running = check(forced).finally(() => { running = null; });
    return running;
  },
  /** Use the newer release: the worker changes, and every window loads again. */
  async use() {
    const registration = await navigator.serviceWorker.getRegistration(keptRelease.scope);
    if (registration && registration.waiting) registration.waiting.postMessage("switch");
    else location.reload();
  },
};
/** What a page does that can be kept: it names its manifest, and asks the host when it is time. */
function begin() {
  const manifest = el("link");
  manifest.rel = "manifest";
  manifest.href = `${keptRelease.scope}manifest.webmanifest`;
  document.head.append(manifest);

  // The first worker takes over a page of its own release; the next one is of another release.
  let controlled = Boolean(navigator.serviceWorker.controller);
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (controlled) location.reload();
    controlled = true;
  });
  addEventListener("load", () => { copy.check(); });
  addEventListener("online", () => { copy.check(); });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") copy.check();
  });
}

if (!state.cannot) begin();
