// Keeps a whole release on this phone: asks the host, downloads, hands over to the worker. Says
// nothing by itself.

import { remember, remembered, rememberedAs } from "../look.js";
import { el } from "../page/element.js";
import { carry, loadAgain, putBack } from "./carried.js";
import { askNewest, bytes, download } from "./download.js";
import { Refused, holdTo, isOlder, keptRelease } from "./kept-release.js";
import { holdToKey, signing } from "./signed.js";
import { sumOf } from "./unpack.js";

const ASK_AGAIN_MS = 10 * 60 * 1000;
const ANSWER_MS = 3000;
/** So long for one that let a first question lie: a check asks some six times. */
const NO_ANSWER_MS = 300;
/** So long may a browser take to change workers by itself, where no window holds the older one. */
const BY_ITSELF_MS = 500;
const NEWEST_KEPT = 3;
/** What a kept list is called before its release's name. */
const LIST = "list-";
const CHECKED = `ohm.checked ${keptRelease.scope}`;
const CONFIRMED = `ohm.confirmed ${keptRelease.scope}`;
const STORE_CHANGED = `ohm.changed ${keptRelease.scope}`;
const live = document.querySelector('script[src*="/_ohmfolio/"]');
/** The release that this page is of; a page that is of none keeps nothing. */
const own = globalThis.Ohm.release;
const ownName = own ? own.name : "";

/**
 * @typedef {import("./kept-release.js").Head & {name: string,
 *   since?: Release["since"]}} Named a release by its name and what it says of itself
 * @typedef {import("./download.js").Newest} Newest
 *
 * @typedef {object} CopyState
 * @property {""|"folder"|"cannot"|"serving"} cannot why nothing can be kept here
 * @property {?import("./kept-release.js").Share} whole how much of this page's release is here
 * @property {?Named} ready a newer release that is whole here and waits to be used
 * @property {?{done: number, of: number}} getting a download that runs
 * @property {string} trouble why the last download or check stopped
 * @property {number} checked when the host was last heard, ms since 1970
 * @property {number} confirmed when the host last had nothing newer than this page's release
 * @property {?boolean} lasting whether the browser promised to keep it
 * @property {boolean} hostOlder the host has an older release than this phone
 * @property {boolean} hostNewer the host names a newer release than this page's
 * @property {boolean} freed the host lets phones go
 * @property {boolean} wanted a tap is wanted
 */

/** @type {CopyState} */
const state = {
  cannot: "", whole: null, ready: null, getting: null, trouble: "", lasting: null,
  checked: Number(remembered(CHECKED)) || 0, confirmed: confirmed(), hostOlder: false, hostNewer: false,
  freed: false, wanted: false,
};
if (!/^https?:$/.test(location.protocol)) state.cannot = "folder";
else if (live) state.cannot = "serving";
else if (!("serviceWorker" in navigator && "caches" in globalThis && crypto.subtle)) {
  state.cannot = "cannot";
}

/** When the host last named this page's release, or an older one, as its newest. */
function confirmed() { return (ownName && confirmations()[ownName]) || 0; }

/** @returns {Object<string, number>} by release, in ms since 1970 */
function confirmations() { return rememberedAs(CONFIRMED, { "*": 0 }) || {}; }

/** @param {Newest} newest @param {Release} release this page's */
function confirm(newest, release) {
  const now = Date.now();
  const ofOwn = isOlder(newest, release) || newest.name === release.name ? now : confirmed();
  remember(CONFIRMED, JSON.stringify({ [newest.name]: now, [release.name]: ofOwn }));
}

/** @param {Partial<CopyState>} news */
function changed(news) {
  Object.assign(state, news);
  document.dispatchEvent(new CustomEvent("ohm:copy"));
}

/** @param {function(): Promise<void>} work that no other window of this copy does at the same time
 * @returns {Promise<void>} */
function alone(work) {
  return navigator.locks ? navigator.locks.request(`ohmfolio ${keptRelease.scope}`, work) : work();
}

/** What one window brought, the others see. They only look, and tell nobody: none wakes another for ever. */
const others = typeof BroadcastChannel === "function" ? new BroadcastChannel(STORE_CHANGED) : null;
function tellOthers() { if (others) others.postMessage(""); }

/** @param {string} name @returns {string} where the worker stands that serves a release */
function workerOf(name) { return `worker-${name}.js`; }

function registered() { return navigator.serviceWorker.getRegistration(keptRelease.scope); }

/**
 * Take the worker of a release, once it is known to be whole. It stands at a name of its own: whatever
 * a browser finds there later by itself is the same worker, or none.
 * @param {Newest} newest @returns {Promise<?ServiceWorkerRegistration>} null where the host has none yet
 */
async function takeWorker({ name, worker }) {
  const { scope } = keptRelease;
  const path = workerOf(name);
  const before = await registered();
  const there = before && (before.waiting || before.active);
  if (there && there.scriptURL.includes(path) && await which(there) === name) return before || null;
  // Half uploaded: the release is here, its worker is not at the host yet.
  const content = worker && await bytes(path).catch(() => null);
  if (!content) return null;
  if ((await sumOf(content)) !== worker) throw new Refused("damaged");
  // One that does not answer has to make room: only another address is another worker.
  const address = `${scope}${path}?${Date.now()}`;
  return navigator.serviceWorker.register(address, { scope, updateViaCache: "none" });
}

/** @returns {Promise<?string>} the release that the worker hands out, if its list is still here */
async function serving() {
  const registration = await registered();
  const name = registration && registration.active ? await which(registration.active) : null;
  return name && await keptRelease.list(name) ? name : null;
}

/** Workers that let a question lie. @type {WeakSet<ServiceWorker>} */
const silent = new WeakSet();

/** A change of workers that was asked for: over once it is done, or has had its time.
 * @type {Promise<unknown>} */
let changing = Promise.resolve();

/** @param {ServiceWorker} worker @returns {Promise<?string>} the release that it serves */
async function which(worker) {
  // A question that comes just then starts the worker anew that goes: the other one would wait for minutes.
  await changing;
  return new Promise((resolve) => {
    const line = new MessageChannel();
    // A worker that lets the phone go does not answer.
    const late = setTimeout(() => {
      silent.add(worker);
      resolve(null);
    }, silent.has(worker) ? NO_ANSWER_MS : ANSWER_MS);
    line.port1.onmessage = (event) => {
      clearTimeout(late);
      silent.delete(worker);
      resolve(event.data);
    };
    worker.postMessage("which", [line.port2]);
  });
}

async function look() {
  const { storage } = navigator;
  const name = await serving();
  const whole = await keptRelease.whole(ownName);
  changed({
    ready: await waiting(name), whole: name ? whole : null, freed: state.freed && !name,
    lasting: storage && storage.persisted ? await storage.persisted() : null,
  });
}

/** @param {?string} name the release that the worker hands out
 * @returns {Promise<?Named>} a newer one that is whole here and waits to be used */
async function waiting(name) {
  const registration = await registered();
  const later = registration && registration.waiting ? await which(registration.waiting) : null;
  // Or this page came past the worker, which has a newer release by now: before it took over this
  // window, or from the host while nothing was here.
  const next = later && later !== name ? later : name;
  if (!next || next === ownName) return null;
  const list = await keptRelease.list(next);
  const share = await keptRelease.whole(next);
  if (!list || !share || share.have < share.of || (own && isOlder(list.release, own))) return null;
  return { ...list.release, name: next };
}

/** @returns {Promise<Named[]>} the releases whose lists are here, the newest first */
async function newestLists() {
  const names = Array.from(await keptRelease.all())
    .filter((name) => name.startsWith(LIST)).map((name) => name.slice(LIST.length));
  /** @type {Named[]} */
  const lists = [];
  await Promise.all(names.map(async (name) => {
    const list = await keptRelease.list(name);
    if (list) lists.push({ name, ...list.release });
  }));
  return lists.sort((a, b) => (isOlder(a, b) ? 1 : -1));
}

/** @param {Newest} newest */
async function bring(newest) {
  const name = await serving();
  const known = await keptRelease.proved(newest.name);
  if (known) holdTo(newest, known);
  const whole = await keptRelease.whole(newest.name);
  if (!whole || whole.have < whole.of) {
    const older = name && name !== newest.name ? name : null;
    await download(newest, older, (done, of) => { changed({ getting: { done, of } }); });
  }
  await handOver(newest, name);
}

/** @param {Newest} newest @param {?string} name the release that the worker hands out */
async function handOver(newest, name) {
  const registration = await takeWorker(newest);
  if (!registration) return;
  signing.took(newest);
  const installed = settled(registration, Boolean(registration.active));
  // With no window that a worker serves, the browser changes them by itself, just then.
  if (!navigator.serviceWorker.controller) changing = installed.then(() => changedByItself(registration));
  await installed;
  // A worker may be known to be installed a moment before it is known to wait.
  const { active, waiting: later } = await registered() || registration;
  if (!navigator.serviceWorker.controller && active && await serving() === ownName) {
    active.postMessage("claim");
  }
  // With no older release left here, or with the newer one open, there is nothing to protect: no need
  // to wait for a tap.
  if ((!name || newest.name === ownName) && later && active) await copy.use();
  if (navigator.storage && navigator.storage.persist) await navigator.storage.persist();
  if (name !== newest.name || !(await keptRelease.begun(newest.name))) return;
  const names = (await newestLists()).slice(0, NEWEST_KEPT).map((list) => list.name);
  await keptRelease.tidy(names.concat(name));
}

/** @param {ServiceWorkerRegistration} registration whose next worker may be put to work at once */
async function changedByItself({ waiting: later, active }) {
  if (later && active) await took(later, BY_ITSELF_MS);
}

/** @param {ServiceWorker} worker that takes over @param {number} ms its time
 * @returns {Promise<boolean>} whether it did, before its time was over */
function took(worker, ms) {
  return new Promise((resolve) => {
    const late = setTimeout(() => { resolve(false); }, ms);
    worker.addEventListener("statechange", () => {
      if (!/^(activated|redundant)$/.test(worker.state)) return;
      clearTimeout(late);
      resolve(worker.state === "activated");
    });
  });
}

/** A page that is of the same release as the worker that took over goes on; another is loaded again.
 * @param {ServiceWorker} worker */
function tookOver(worker) {
  if (!worker.scriptURL.includes(workerOf(ownName))) {
    loadAgain();
    return;
  }
  worker.postMessage("claim");
  look();
}

/** A first worker is waited for until it works; a later one until it waits for its turn.
 * @param {ServiceWorkerRegistration} registration @param {boolean} later
 * @returns {Promise<void>} */
function settled(registration, later) {
  const worker = registration.installing || (later ? null : registration.waiting);
  if (!worker) return Promise.resolve();
  const ends = later ? /^(activated|redundant|installed)$/ : /^(activated|redundant)$/;
  return new Promise((resolve) => {
    const hear = () => { if (ends.test(worker.state)) resolve(undefined); };
    worker.addEventListener("statechange", hear);
    hear();
  });
}

/** Ask the host and do what follows, once what is here is known.
 * @param {boolean} forced by a tap: also when the host was asked a moment ago */
async function check(forced) {
  if (state.cannot || !own) return;
  await look();
  const whole = state.whole && state.whole.have === state.whole.of;
  // A check that lies ahead was told by a wrong clock: it must not keep the phone from asking.
  const sinceMs = Date.now() - state.checked;
  if (!forced && whole && sinceMs >= 0 && sinceMs < ASK_AGAIN_MS) return;
  try {
    const newest = await askNewest();
    await holdToKey(newest);
    remember(CHECKED, String(Date.now()));
    confirm(newest, own);
    changed({
      checked: Date.now(), confirmed: confirmed(), freed: newest.offline === false, hostOlder: false,
      hostNewer: isOlder(own, newest), trouble: "",
    });
    if (!(await follow(newest, forced))) return;
  } catch (failed) {
    const why = (failed instanceof Error && failed.message) || "host";
    changed(why === "older" ? { hostOlder: true, trouble: "" } : { trouble: why });
  }
  changed({ getting: null });
  await look();
}

/** @param {Newest} newest @param {boolean} forced
 * @returns {Promise<boolean>} whether there is anything new to look at */
async function follow(newest, forced) {
  if (newest.offline === false) {
    await letGo(newest);
    return false;
  }
  const name = await serving();
  const list = name && name !== newest.name ? await keptRelease.list(name) : null;
  if (list && isOlder(newest, list.release)) {
    changed({ hostOlder: true });
    return true;
  }
  const wanted = Boolean(!name && !forced && navigator.connection && navigator.connection.saveData);
  changed({ wanted });
  if (wanted) return false;
  try { await alone(() => bring(newest)); } finally { tellOthers(); }
  return true;
}

/** The host lets phones go: so does its worker, and where there is none, this page.
 * @param {Newest} newest */
async function letGo(newest) {
  signing.took(newest);
  if (await registered()) await takeWorker(newest);
  else await keptRelease.forget();
}

/** @type {?Promise<void>} */
let running = null;
/** @type {?Promise<void>} */
let next = null;

export const copy = {
  state,
  /** Ask the host, now or when it is time.
   * @param {boolean} [forced] @returns {Promise<void>} */
  check(forced = false) {
    if (running && forced) {
      // What runs may have asked the host already, or not at all: who asks now is answered anew.
      next = next || running.then(() => {
        next = null;
        return copy.check(true);
      });
      return next;
    }
    if (!running) running = check(forced).finally(() => { running = null; });
    return running;
  },
  /** Use the newer release: the worker changes, and every window loads again. */
  async use() {
    const registration = await registered();
    const later = registration && registration.waiting;
    if (!later) {
      loadAgain();
      return;
    }
    // A page whose own worker was thrown away hears of no change.
    changing = took(later, ANSWER_MS).then((done) => { if (done) tookOver(later); });
    later.postMessage("switch");
    await changing;
  },
};

/** What a page does that can be kept: it names its manifest, and asks the host when it is time. */
function begin() {
  const manifest = el("link");
  manifest.rel = "manifest";
  manifest.href = `${keptRelease.scope}manifest.webmanifest`;
  document.head.append(manifest);

  navigator.serviceWorker.addEventListener("controllerchange", () => {
    // Where all was thrown away there is nothing newer to show.
    if (navigator.serviceWorker.controller) tookOver(navigator.serviceWorker.controller);
  });
  if (others) others.onmessage = look;
  // The worker that lets this phone go loads the page again by itself.
  navigator.serviceWorker.addEventListener("message", carry);
  addEventListener("load", () => {
    putBack();
    copy.check();
  });
  addEventListener("online", () => { copy.check(); });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") copy.check();
  });
}

if (!state.cannot) begin();
