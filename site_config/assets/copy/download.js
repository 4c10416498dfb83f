// Brings a release onto this phone: verified byte by byte, a retry fetches only what is missing.

import { Refused, keptRelease } from "./kept-release.js";
import { patched, unpacker } from "./unpack.js";

const TIMEOUT_MS = 20000;
const AT_ONCE = 6;
// Below this share of missing files, single files are less than the whole pack.
const SINGLE_FILES_BELOW = 0.5;

/** @param {string} path @returns {Promise<Response>} from the host itself, never from a cache */
async function asked(path) {
  const stop = new AbortController();
  let timer = setTimeout(() => { stop.abort(); }, TIMEOUT_MS);
  try {
    const told = await fetch(keptRelease.scope + path, { cache: "no-store", signal: stop.signal });
    if (!told.ok) throw new Refused("host");
    return { told, again() { clearTimeout(timer); timer = setTimeout(() => { stop.abort(); }, TIMEOUT_MS); },
      done() { clearTimeout(timer); } };
  } catch (failed) {
    clearTimeout(timer);
    throw refusal(failed);
  }
}

async function bytes(path) {
  const one = await asked(path);
  try { return new Uint8Array(await one.told.arrayBuffer()); }
  catch (failed) { throw refusal(failed); }
  finally { one.done(); }
}

function refusal(failed) {
  if (failed instanceof Refused) return failed;
  if (failed.name === "QuotaExceededError") return new Refused("full");
  if (failed.name === "AbortError") return new Refused("slow");
  return new Refused("host");
}

/** @returns {Promise<object>} what the host has, in a few hundred bytes */
export async function askNewest() {
  try { return JSON.parse(new TextDecoder().decode(await bytes("newest.json"))); }
  catch (failed) { throw refusal(failed); }
}

/**
 * Download a release and commit it.
 * @param {object} newest what the host said @param {?string} older a release that is whole here
 * @param {function(number, number)} progress how many of how many files are here
 */
export async function download(newest, older, progress) {
  try {
    await bring(newest, older, progress);
    await keptRelease.commit(newest.name);
  } catch (failed) { throw refusal(failed); }
}

async function bring(newest, older, progress) {
  let begun = await keptRelease.begun(newest.name);
  const packs = typeof DecompressionStream === "function";
  // What was begun goes on file by file, unless most of it is missing still.
  if (packs && !(begun && (await missing(begun)).share < SINGLE_FILES_BELOW)) {
    const way = older && newest.packs.from[older] ? `from-${older}` : "all";
    try { return await unpack(newest, way, older, progress); }
    catch (failed) {
      // A full phone stays full. Anything else may be this one file: try the long way.
      if (refusal(failed).message === "full" || !(await reachable())) throw failed;
    }
  }
  begun = begun || await keptRelease.begun(newest.name);
  if (!begun) {
    const raw = await bytes("release.json");
    await keptRelease.begin(newest.name, raw);
    begun = await keptRelease.begun(newest.name);
  }
  await singly(begun, progress);
}

async function reachable() {
  try { await bytes("newest.json"); return true; } catch (failed) { return false; }
}

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

async function singly(list, progress) {
  const left = await missing(list);
  let next = 0, done = left.of - left.paths.length;
  progress(done, left.of);
  async function hand() {
    while (next < left.paths.length) {
      const path = left.paths[next++];
      await keptRelease.keep(list.files[path], await bytes(path));
      progress(++done, left.of);
    }
  }
  const hands = [];
  for (let i = 0; i < AT_ONCE; i++) hands.push(hand().catch((failed) => { next = Infinity; throw failed; }));
  // All hands come to rest before the failure is told: none may write into the next try.
  const failed = (await Promise.allSettled(hands)).find((one) => one.reason);
  if (failed) throw failed.reason;
}

async function unpack(newest, way, older, progress) {
  const one = await asked(`releases/${newest.name}/${way}.pack`);
  const frames = unpacker();
  const of = newest.files;
  let done = 0;
  try {
    const stream = await plain(one);
    const reader = stream.getReader();
    for (;;) {
      const part = await reader.read();
      if (part.done) break;
      one.again();
      for (const frame of frames.take(part.value)) {
        await take(newest, frame, older);
        progress(Math.min(done++, of), of);
      }
    }
    if (!frames.done()) throw new Refused("damaged");
  } finally { one.done(); }
}

/** Some hosts undo the compression on the way; the first two bytes tell. */
async function plain(one) {
  const parts = one.told.body.tee();
  const reader = parts[0].getReader();
  const first = (await reader.read()).value || [];
  reader.cancel().catch(() => {});
  return first[0] === 0x1f && first[1] === 0x8b
    ? parts[1].pipeThrough(new DecompressionStream("gzip")) : parts[1];
}

async function take(newest, frame, older) {
  let content = frame.body;
  if (frame.head.from) {
    const old = frame.head.from === "list" ? await listText(older) : await keptRelease.content(frame.head.from);
    if (!old) throw new Refused("missing");
    content = patched(old, frame.head.steps, frame.body);
  }
  if (frame.head.sum === "list") await keptRelease.begin(newest.name, content);
  else await keptRelease.keep(frame.head.sum, content);
}

async function listText(older) {
  return new TextEncoder().encode(await keptRelease.text(`list-${older}`));
}
