// Brings one file from the host, and goes on where the line broke: in this page, and in a later one.

import { Refused, keptRelease } from "./kept-release.js";

/** So long may a host keep silent; a slow line may take as long as it likes. */
const TIMEOUT_MS = 20000;
/** What took longer than this may break: from then on what came is kept, so much at a time. */
const SLOW_MS = 2000;
const AT_A_TIME = 1 << 14;

/** @typedef {function(Uint8Array): unknown} Take */

/** @param {unknown} failed @returns {Refused} */
export function refusal(failed) {
  if (failed instanceof Refused) return failed;
  const name = failed instanceof Error || failed instanceof DOMException ? failed.name : "";
  if (name === "QuotaExceededError") return new Refused("full");
  return new Refused(name === "AbortError" ? "slow" : "host");
}

/**
 * Hand on a file of the host, piece by piece, never from a cache.
 * @param {string} path @param {string} key what it is kept by while it arrives; whoever finds at the
 *   end that it is another file says so by `startOver` @param {Take} take
 */
export async function arriving(path, key, take) {
  const begun = Date.now();
  let { at, pieces } = await keptRelease.arrived(key);
  const here = at;
  let idle = 0;
  for (const piece of pieces) await take(piece);
  pieces = [];
  let stored = at;
  const store = async () => {
    if (at > stored) await keptRelease.arrive(key, stored, pieces);
    stored = at;
    pieces = [];
  };
  for (;;) {
    const from = at;
    try {
      await asked(path, at, async (piece) => {
        await take(piece);
        at += piece.length;
        pieces.push(piece);
        if (at - stored >= AT_A_TIME && Date.now() - begun > SLOW_MS) await store();
      });
      return;
    } catch (failed) {
      const why = refusal(failed);
      if (!/host|slow/.test(why.message)) throw why;
      await store();
      // A line that brought something may bring the rest; one that brings nothing is left alone.
      idle = at > from ? 0 : idle + 1;
      if (at === here || idle > 1) throw why;
    }
  }
}

/** Ask for what is missing. A host that knows no ranges sends all: what is here is passed over.
 * @param {string} path @param {number} from @param {Take} take */
async function asked(path, from, take) {
  const stop = new AbortController();
  const timed = () => setTimeout(() => { stop.abort(); }, TIMEOUT_MS);
  let timer = timed();
  try {
    const response = await fetch(keptRelease.scope + path, {
      cache: "no-store", signal: stop.signal, headers: from ? { Range: `bytes=${from}-` } : {},
    });
    // Nothing is missing: all of it came before.
    if (response.status === 416) return;
    // Half of an upload: the host is there, and this file is not.
    if (!response.ok || !response.body) throw new Refused(response.status === 404 ? "missing" : "host");
    let over = response.status === 206 ? 0 : from;
    const reader = response.body.getReader();
    for (;;) {
      const { value } = await reader.read();
      if (!value) return;
      clearTimeout(timer);
      timer = timed();
      const piece = value.subarray(Math.min(over, value.length));
      over -= value.length - piece.length;
      if (piece.length) await take(piece);
    }
  } finally {
    clearTimeout(timer);
  }
}
