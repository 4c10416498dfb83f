// Brings a release onto this phone: verified byte by byte, a retry fetches only what is missing.

import { alike } from "../look.js";
import { arriving, refusal } from "./arriving.js";
import { Refused, keptRelease } from "./kept-release.js";
import { patched, unpacker } from "./unpack.js";

/** @typedef {import("./kept-release.js").Head} Head */
/** @typedef {import("./kept-release.js").ReleaseList} ReleaseList */

const AT_ONCE = 6;
// Below this share of missing files, single files are less than the whole pack.
const SINGLE_FILES_BELOW = 0.5;

/**
 * What the host has, in a few hundred bytes.
 * @typedef {Head & {name: string, files: number,
 *   packs: {all: number, from: Object<string, number>}, worker?: string,
 *   signed?: import("./signed.js").Signed}} Newest packs: the bytes of each way; worker: the checksum of
 *   the worker that serves it
 * @typedef {function(number, number): void} Progress how many of how many files are here
 */

const NEWEST = { name: "", number: 0, date: "", files: 0, packs: { from: {} } };

/** @param {string} path @param {string} [key] what it is kept by, should the line break
 * @returns {Promise<Uint8Array>} */
export async function bytes(path, key = "") {
  /** @type {Uint8Array[]} */
  const pieces = [];
  await arriving(path, key, (piece) => { pieces.push(piece); });
  return new Uint8Array(await new Response(new Blob(pieces)).arrayBuffer());
}

/** @returns {Promise<Newest>} */
export async function askNewest() {
  const text = new TextDecoder().decode(await bytes("newest.json"));
  try {
    const newest = JSON.parse(text);
    if (alike(newest, NEWEST) && /^[0-9a-f]{12}$/.test(newest.name)) return newest;
  } catch (failed) { /* half of it, or another page */ }
  // A page is one of the network that stands between, as where one signs in.
  throw new Refused(text.trim()[0] === "<" ? "other" : "host");
}

/**
 * Download a release and commit it.
 * @param {Newest} newest what the host said @param {?string} older a release that is whole here
 * @param {Progress} progress
 */
export async function download(newest, older, progress) {
  try {
    await bring(newest, older, progress);
    // What was here before counts as little as what came: spoilt, it comes anew.
    const list = await keptRelease.proved(newest.name, "begun");
    if (list) await singly(list, progress);
    await keptRelease.commit(newest.name);
  } catch (failed) {
    throw refusal(failed);
  }
}

/** @param {Newest} newest @param {?string} older @param {Progress} progress */
async function bring(newest, older, progress) {
  const begun = await keptRelease.begun(newest.name);
  const packs = typeof DecompressionStream === "function";
  // What was begun goes on file by file, unless most of it is missing still.
  if (packs && !(begun && (await missing(begun)).share < SINGLE_FILES_BELOW)) {
    try {
      await unpack(newest, older, progress);
      return;
    } catch (failed) {
      // A full phone stays full. Anything else may be this one file: try the long way.
      if (refusal(failed).message === "full" || !(await reachable())) throw failed;
    }
  }
  if (!(await keptRelease.begun(newest.name))) {
    await keptRelease.begin(newest, await bytes("release.json"));
  }
  const list = await keptRelease.begun(newest.name);
  if (!list) throw new Refused("missing");
  await singly(list, progress);
}

async function reachable() {
  try {
    await bytes("newest.json");
    return true;
  } catch (failed) {
    return false;
  }
}

/** @param {ReleaseList} list */
async function missing(list) {
  const here = await keptRelease.all();
  const paths = Object.keys(list.files);
  const seen = new Set();
  const wanted = paths.filter((path) => {
    const sum = list.files[path];
    if (here.has(sum) || seen.has(sum)) return false;
    seen.add(sum);
    return true;
  });
  return { paths: wanted, of: paths.length, share: wanted.length / paths.length };
}

/** @param {ReleaseList} list @param {Progress} progress */
async function singly(list, progress) {
  const left = await missing(list);
  let next = 0;
  let done = left.of - left.paths.length;
  progress(done, left.of);
  /** @returns {Promise<unknown>} what it failed by, null where it did not */
  const hand = async () => {
    try {
      while (next < left.paths.length) {
        const path = left.paths[next++];
        const sum = list.files[path];
        const content = await bytes(path, sum);
        await keptRelease.startOver(sum);
        await keptRelease.keep(sum, content);
        progress(++done, left.of);
      }
      return null;
    } catch (failed) {
      next = Infinity;
      return failed;
    }
  };
  // All hands come to rest before the failure is told: none may write into the next try.
  const failures = (await Promise.all(Array.from({ length: AT_ONCE }, hand))).filter(Boolean);
  if (failures.length) throw failures[0];
}

/** @param {Newest} newest @param {?string} older @param {Progress} progress */
async function unpack(newest, older, progress) {
  const way = older && newest.packs.from[older] ? `from-${older}` : "all";
  const key = `${newest.name}-${way}`;
  const path = `releases/${newest.name}/${way}.pack`;
  let givenUp = false;
  /** @type {ReadableStream<Uint8Array>} */
  const raw = new ReadableStream({
    start(to) {
      arriving(path, key, (piece) => {
        if (givenUp) throw new Refused("damaged");
        to.enqueue(piece);
        // One that was given up meanwhile cannot be closed any more.
      }).then(() => { to.close(); }).catch((failed) => { to.error(failed); });
    },
    cancel() { givenUp = true; },
  });
  const frames = unpacker();
  const of = newest.files;
  let done = 0;
  try {
    await eachPiece(await plain(raw), async (piece) => {
      for (const frame of frames.take(piece)) {
        await take(newest, frame, older);
        progress(Math.min(done++, of), of);
      }
    });
    if (!frames.done()) throw new Refused("damaged");
  } catch (failed) {
    // What the line broke off goes on from there; what is spoilt begins anew.
    if (!/host|slow|full/.test(refusal(failed).message)) await keptRelease.startOver(key);
    throw failed;
  }
  await keptRelease.startOver(key);
}

/** @param {ReadableStream<Uint8Array>} stream @param {import("./arriving.js").Take} take */
async function eachPiece(stream, take) {
  const reader = stream.getReader();
  try {
    for (;;) {
      const { value } = await reader.read();
      if (!value) return;
      await take(value);
    }
  } finally {
    // What is spoilt is not waited for to its end.
    reader.cancel().catch(() => {});
  }
}

/** Some hosts undo the compression on the way; the first two bytes tell.
 * @param {ReadableStream<Uint8Array>} raw @returns {Promise<ReadableStream<Uint8Array>>} */
async function plain(raw) {
  const [ahead, whole] = raw.tee();
  const reader = ahead.getReader();
  const first = (await reader.read()).value || [];
  reader.cancel().catch(() => {});
  return first[0] === 0x1f && first[1] === 0x8b
    ? whole.pipeThrough(new DecompressionStream("gzip")) : whole;
}

/** @param {Newest} newest @param {import("./unpack.js").Frame} frame @param {?string} older */
async function take(newest, { head, body }, older) {
  let content = body;
  if (head.from) {
    const from = head.from === "list" ? `list-${older}` : head.from;
    const old = await keptRelease.content(from);
    if (!old) throw new Refused("missing");
    content = patched(old, head.steps || [], body);
  }
  if (head.sum === "list") await keptRelease.begin(newest, content);
  else await keptRelease.keep(head.sum, content);
}
