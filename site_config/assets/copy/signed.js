// Whether a release is the keeper's: by the first key that this phone has met, or one that it handed
// over to. What is signed mirrors kb/release_format/signed.py. Nothing here touches the page.

import { alike, remember, rememberedAs } from "../look.js";
import { Refused, isOlder, keptRelease } from "./kept-release.js";
import { sumOf } from "./unpack.js";

/**
 * @typedef {import("./download.js").Newest} Newest
 * @typedef {{key: string, by: string}} KeyBefore a key, and its signature over the next one
 * @typedef {{key: string, by: string, list_sum: string, record_sum: string,
 *   before: KeyBefore[]}} Signed
 * @typedef {{key: string, mark: string, number: number, date: string}} Trust the key in force here, and
 *   the newest release by it that was whole here
 */

/** It survives a letting go: that ends the copy, not whose notes these are. */
const TRUST = `ohm.key ${keptRelease.scope}`;
const NOBODY = "none";
const MARK_LENGTH = 20;
const BEFORE = { key: "", by: "" };
const SIGNED = { ...BEFORE, list_sum: "", record_sum: "", before: [BEFORE] };
const NO_RELEASE = { number: 0, date: "" };

/** @type {?Trust} a key that the host's release is signed by and this phone has not met */
let foreign = null;

/** @returns {?Trust} */
function trusted() { return rememberedAs(TRUST, { key: "", mark: "", ...NO_RELEASE }); }
/** @param {?Trust} next */
function trust(next) { remember(TRUST, next && JSON.stringify(next)); }

/** @param {string} hex @returns {Uint8Array} */
function bytesOf(hex) { return new Uint8Array((hex.match(/../g) || []).map((pair) => parseInt(pair, 16))); }

/** @param {{key: string, by: string}} signature
 * @param {unknown[]} content what it must be over */
async function hold({ key, by }, content) {
  const { subtle } = crypto;
  try {
    const known = await subtle.importKey("raw", bytesOf(key), "Ed25519", false, ["verify"]);
    const text = new TextEncoder().encode(JSON.stringify(["ohmfolio", ...content]));
    if (await subtle.verify("Ed25519", known, bytesOf(by), text)) return;
  } catch (failed) {
    if (failed instanceof DOMException && failed.name === "NotSupportedError") throw new Refused("unchecked");
  }
  throw new Refused("forged");
}

/** @param {string} key where to begin @param {Signed} signed @returns {Promise<boolean>} whether that
 *   key's word, and that of each after it, leads to the one in force */
async function leads(key, { before, key: last }) {
  const keys = before.map((each) => each.key).concat(last);
  const begin = keys.indexOf(key);
  if (begin < 0) return false;
  for (let i = begin; i < before.length; i++) {
    await hold(before[i], ["key", keys[i], keys[i + 1]]);
  }
  return true;
}

/** @param {Newest} newest @param {Signed} signed */
async function holdRelease({ name, number, date, offline, worker }, signed) {
  if (!signed.list_sum.startsWith(name)) throw new Refused("forged");
  const { list_sum, record_sum } = signed;
  await hold(signed, ["release", number, date, offline !== false, worker, list_sum, record_sum]);
}

/** Refuse what the host has if it is not the keeper's: unsigned, forged, foreign, older, unchecked.
 * @param {Newest} newest */
export async function holdToKey(newest) {
  const known = trusted();
  const { signed } = newest;
  foreign = null;
  signing.unchecked = false;
  if (!signed) {
    if (known) throw new Refused("unsigned");
    return;
  }
  if (!alike(signed, SIGNED)) throw new Refused("forged");
  const { key } = signed;
  try {
    const follows = !known || await leads(known.key, signed);
    if (key === NOBODY) {
      if (!follows) throw new Refused("unsigned");
      trust(null);
      return;
    }
    await holdRelease(newest, signed);
    const mark = (await sumOf(bytesOf(key))).slice(0, MARK_LENGTH);
    const { number, date } = known || NO_RELEASE;
    const next = { key, mark, number, date };
    if (!follows) {
      foreign = next;
      throw new Refused("foreign");
    }
    trust(next);
    if (isOlder(newest, next)) throw new Refused("older");
  } catch (failed) {
    // A browser that never could check has no key: it goes by checksums alone, as without signatures.
    signing.unchecked = !known && failed instanceof Refused && failed.message === "unchecked";
    if (!signing.unchecked) throw failed;
  }
}

export const signing = {
  /** This browser cannot check the signature that the host's release has. */
  unchecked: false,
  /** @returns {string} the mark of the key that this phone trusts, in fours; empty if none */
  mark() {
    const known = trusted();
    return known ? (known.mark.match(/..../g) || []).join("-") : "";
  },
  /** A release is whole here: none before it is taken any more.
   * @param {Newest} newest */
  took({ number, date }) {
    const known = trusted();
    if (known && isOlder(known, { number, date })) trust({ ...known, number, date });
  },
  /** Take the key that the host's release is signed by, if somebody typed its mark.
   * @param {string} typed */
  take(typed) {
    const same = foreign && foreign.mark === typed.toLowerCase().replace(/[^0-9a-f]/g, "");
    if (same) trust(foreign);
    return Boolean(same);
  },
};
