// What of a release is kept on this phone: contents by checksum, lists by name. Nothing here
// touches the page.

import { sumOf } from "./unpack.js";

/**
 * What a release says of itself, as generators/release/head.py writes it.
 * @typedef {{number: number, date: string, offline: boolean}} Head
 * @typedef {{release: Head, files: Object<string, string>}} ReleaseList files: path → checksum
 * @typedef {{have: number, of: number}} Share how many of how many files
 */

/** Why a download stopped: damaged, missing, host, slow, full. */
export class Refused extends Error {}

const NAME_LENGTH = 12;
const root = /** @type {HTMLAnchorElement} */ (document.querySelector("[data-ohm-root]"));
const scope = new URL(".", root.href).href;
const STORE = `ohmfolio ${scope}`;

function open() { return caches.open(STORE); }
/** @param {string} name */
function address(name) { return `${scope}.kept/${name}`; }

/** @param {string} name @returns {Promise<?string>} */
async function text(name) {
  const found = await (await open()).match(address(name));
  return found ? found.text() : null;
}
/** @param {string} name @param {string|Uint8Array} content */
async function put(name, content) { await (await open()).put(address(name), new Response(content)); }

/** @returns {Promise<Set<string>>} everything that is kept, by name */
async function all() {
  const keys = await (await open()).keys();
  return new Set(keys.map((key) => key.url.slice(address("").length)));
}

/** @param {string} name @returns {Promise<?ReleaseList>} */
async function list(name) {
  const raw = await text(`list-${name}`);
  return raw ? JSON.parse(raw) : null;
}

/** @param {string} name @returns {Promise<?Share>} how much of a release is here */
async function whole(name) {
  const known = await list(name);
  if (!known) return null;
  const here = await all();
  const paths = Object.keys(known.files);
  return { have: paths.filter((path) => here.has(known.files[path])).length, of: paths.length };
}

export const keptRelease = {
  scope,
  all,
  list,
  whole,
  /** @param {string} sum @returns {Promise<?Uint8Array>} */
  async content(sum) {
    const found = await (await open()).match(address(sum));
    return found ? new Uint8Array(await found.arrayBuffer()) : null;
  },
  /** Keep a content, if it has its checksum.
   * @param {string} sum @param {Uint8Array} content */
  async keep(sum, content) {
    if ((await sumOf(content)) !== sum) throw new Refused("damaged");
    await put(sum, content);
  },
  /** A list that is known but not committed: a retry then needs no more than what is missing.
   * @param {string} name @returns {Promise<?ReleaseList>} */
  async begun(name) {
    const raw = await text(`begun-${name}`);
    return raw ? JSON.parse(raw) : null;
  },
  /** @param {string} name @param {Uint8Array} raw the list */
  async begin(name, raw) {
    if ((await sumOf(raw)).slice(0, NAME_LENGTH) !== name) throw new Refused("damaged");
    await put(`begun-${name}`, raw);
  },
  /** The last write of a download, and the one that counts.
   * @param {string} name */
  async commit(name) {
    const raw = await text(`begun-${name}`);
    if (raw === null) throw new Refused("missing");
    const here = await all();
    /** @type {ReleaseList} */
    const { files } = JSON.parse(raw);
    if (!Object.keys(files).every((path) => here.has(files[path]))) throw new Refused("missing");
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
  text,
  forget() { return caches.delete(STORE); },
};
