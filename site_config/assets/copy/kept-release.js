// What of a release is kept on this phone: contents by checksum, lists by name. Nothing here
// touches the page.

import { sumOf } from "./unpack.js";

/**
 * What a release says of itself, as generators/release/head.py writes it.
 * @typedef {{number: number, date: string, offline: boolean}} Head
 * @typedef {{release: Head, files: Object<string, string>}} ReleaseList files: path → checksum
 * @typedef {{have: number, of: number}} Share how many of how many files
 */

/** Why a download stopped: damaged, missing, host, other, slow, full; or why what the host has is not taken:
 * unsigned, forged, foreign, older, unchecked. */
export class Refused extends Error {}

/** A host never takes a phone back: a lower number, or an earlier day of the same number.
 * @param {{number: number, date: string}} release @param {{number: number, date: string}} other */
export function isOlder(release, other) {
  return release.number < other.number || (release.number === other.number && release.date < other.date);
}

const NAME_LENGTH = 12;
const root = /** @type {HTMLAnchorElement} */ (document.querySelector("[data-ohm-root]"));
const scope = new URL(".", root.href).href;
const STORE = `ohmfolio ${scope}`;

function open() { return caches.open(STORE); }
/** @param {string} name */
function address(name) { return `${scope}.kept/${name}`; }

/** @param {string} name @returns {Promise<?Uint8Array>} */
async function content(name) {
  const found = await (await open()).match(address(name));
  return found ? new Uint8Array(await found.arrayBuffer()) : null;
}
/** @param {string} name @param {string|Uint8Array} content */
async function put(name, content) { await (await open()).put(address(name), new Response(content)); }

/** @returns {Promise<Set<string>>} everything that is kept, by name */
async function all() {
  const keys = await (await open()).keys();
  return new Set(keys.map((key) => key.url.slice(address("").length)));
}

/** @param {string} key @param {number|string} at @returns {string} how a piece of a file is called */
function part(key, at) { return `part-${key}-${at}`; }

/** @param {Uint8Array} raw @returns {ReleaseList} */
function read(raw) { return JSON.parse(new TextDecoder().decode(raw)); }

/** @param {Uint8Array} raw @param {string} name
 * @returns {Promise<boolean>} whether it is that release's list */
async function named(raw, name) { return (await sumOf(raw)).slice(0, NAME_LENGTH) === name; }

/** A list that is kept; one that is spoilt is none, and comes anew.
 * @param {string} name @param {string} [kind] @returns {Promise<?ReleaseList>} */
async function list(name, kind = "list") {
  const raw = await content(`${kind}-${name}`);
  return raw && await named(raw, name) ? read(raw) : null;
}

/** @param {string} name @returns {Promise<?Share>} how much of a release is here */
async function whole(name) {
  const known = await list(name);
  if (!known) return null;
  const here = await all();
  const paths = Object.keys(known.files);
  return { have: paths.filter((path) => here.has(known.files[path])).length, of: paths.length };
}

/** A release is what its own list says: news of it that say otherwise are forged or damaged.
 * @param {Head} newest @param {ReleaseList} known */
export function holdTo(newest, { release }) {
  if (release.number !== newest.number || release.date !== newest.date) throw new Refused("damaged");
}

export const keptRelease = {
  scope,
  all,
  list,
  whole,
  content,
  /** A list that is kept, once all that is no longer what it says is thrown away.
   * @param {string} name @param {string} [kind] @returns {Promise<?ReleaseList>} */
  async proved(name, kind) {
    const known = await list(name, kind);
    for (const sum of Object.values(known ? known.files : {})) {
      const found = await content(sum);
      if (found && (await sumOf(found)) !== sum) await (await open()).delete(address(sum));
    }
    return known;
  },
  /** Keep a content, if it has its checksum.
   * @param {string} sum @param {Uint8Array} content */
  async keep(sum, content) {
    if ((await sumOf(content)) !== sum) throw new Refused("damaged");
    await put(sum, content);
  },
  /** A list that is known but not committed: a retry then needs no more than what is missing.
   * @param {string} name @returns {Promise<?ReleaseList>} */
  begun(name) { return list(name, "begun"); },
  /** @param {import("./download.js").Newest} newest what the host said of it
   * @param {Uint8Array} raw the list: where it is signed, by its whole checksum */
  async begin(newest, raw) {
    const sum = await sumOf(raw);
    const { name, signed } = newest;
    const whole = signed && signed.by ? signed.list_sum : sum;
    if (!sum.startsWith(name) || sum !== whole) throw new Refused("damaged");
    holdTo(newest, read(raw));
    await put(`begun-${newest.name}`, raw);
  },
  /** The last write of a download, and the one that counts.
   * @param {string} name */
  async commit(name) {
    const raw = await content(`begun-${name}`);
    const known = await list(name, "begun");
    const here = await all();
    if (!raw || !known || !Object.values(known.files).every((sum) => here.has(sum))) {
      throw new Refused("missing");
    }
    await put(`list-${name}`, raw);
  },
  /** Throw away what none of these releases needs.
   * @param {string[]} names */
  async tidy(names) {
    const wanted = new Set(["serving"]);
    for (const name of names) {
      const known = await list(name);
      if (!known) continue;
      wanted.add(`list-${name}`);
      Object.keys(known.files).forEach((path) => { wanted.add(known.files[path]); });
    }
    const store = await open();
    for (const name of await all()) if (!wanted.has(name)) await store.delete(address(name));
  },
  /** What came of a file before the line broke, in order.
   * @param {string} key @returns {Promise<{at: number, pieces: Uint8Array[]}>} */
  async arrived(key) {
    /** @type {Uint8Array[]} */
    const pieces = [];
    let at = 0;
    for (let piece = key && await content(part(key, 0)); piece; piece = await content(part(key, at))) {
      pieces.push(piece);
      at += piece.length;
    }
    return { at, pieces };
  },
  /** @param {string} key @param {number} at where these pieces begin @param {Uint8Array[]} pieces */
  async arrive(key, at, pieces) {
    if (key) await (await open()).put(address(part(key, at)), new Response(new Blob(pieces)));
  },
  /** What came of a file is whole and kept, or spoilt: no piece of it is needed.
   * @param {string} key */
  async startOver(key) {
    if (!await content(part(key, 0))) return;
    for (const name of await all()) {
      if (name.startsWith(part(key, ""))) await (await open()).delete(address(name));
    }
  },
  forget() { return caches.delete(STORE); },
};
