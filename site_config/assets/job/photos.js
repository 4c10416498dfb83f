// The photos of the jobs: kept on this phone and nowhere else. Where it does not keep them they go on
// in this page's memory, and whoever asked is told.

const NAME = "ohm.photos";
const STORE = "photos";

/** Bytes of a JPEG; job: whose it is, so that a job goes with all of its photos.
 * @typedef {{key: string, job: string, bytes: ArrayBuffer}} PhotoRecord */

/** What storage refused to take.
 * @type {Map<string, PhotoRecord>} */
const held = new Map();

/** @param {string} job @param {string} photo */
const keyOf = (job, photo) => `${job}/${photo}`;

/** @returns {Promise<IDBDatabase>} fails where the phone has none, or denies it */
function database() {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => { asked.result.createObjectStore(STORE, { keyPath: "key" }); };
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
    asked.onblocked = () => reject(new Error("blocked"));
  });
}

/** @template T
 * @param {"readonly"|"readwrite"} mode
 * @param {function(IDBObjectStore): IDBRequest<T>|void} work
 * @returns {Promise<T|undefined>} what the work asked for, once all of it is written */
async function inStore(mode, work) {
  const opened = await database();
  try {
    return await new Promise((resolve, reject) => {
      const change = opened.transaction(STORE, mode);
      const asked = work(change.objectStore(STORE));
      change.oncomplete = () => resolve(asked ? asked.result : undefined);
      change.onerror = () => reject(change.error);
      change.onabort = () => reject(change.error);
    });
  } finally {
    opened.close();
  }
}

/** @param {string} job @param {string} photo @param {ArrayBuffer} bytes
 * @returns {Promise<boolean>} whether the phone keeps it, and not only this page */
export async function keepPhoto(job, photo, bytes) {
  /** @type {PhotoRecord} */
  const record = { key: keyOf(job, photo), job, bytes };
  try {
    await inStore("readwrite", (records) => records.put(record));
    return true;
  } catch (refused) {
    held.set(record.key, record);
    return false;
  }
}

/** @param {string} job @param {string} photo
 * @returns {Promise<?ArrayBuffer>} null where it is gone */
export async function photoBytes(job, photo) {
  const key = keyOf(job, photo);
  const memory = held.get(key);
  if (memory) return memory.bytes;
  try {
    /** @type {PhotoRecord|undefined} */
    const record = await inStore("readonly", (records) => records.get(key));
    return record ? record.bytes : null;
  } catch (refused) {
    return null;
  }
}

/** @param {string} job @param {string} photo */
export async function forgetPhoto(job, photo) {
  const key = keyOf(job, photo);
  held.delete(key);
  try { await inStore("readwrite", (records) => records.delete(key)); } catch (refused) { /* never kept */ }
}

/** Give all photos of a job to another.
 * @param {string} from @param {string} to */
export async function movePhotos(from, to) {
  const moved = (/** @type {PhotoRecord} */ record) =>
    ({ ...record, key: keyOf(to, record.key.slice(from.length + 1)), job: to });
  Array.from(held.values()).filter(({ job }) => job === from).forEach((record) => {
    held.delete(record.key);
    held.set(moved(record).key, moved(record));
  });
  try {
    await inStore("readwrite", (records) => {
      const asked = records.openCursor(IDBKeyRange.bound(`${from}/`, `${from}/\uffff`));
      asked.onsuccess = () => {
        const cursor = asked.result;
        if (!cursor) return;
        records.put(moved(cursor.value));
        cursor.delete();
        cursor.continue();
      };
    });
  } catch (refused) { /* none is kept */ }
}

/** Forget every photo of a job, those too that its record does not name any more.
 * @param {string} job */
export async function forgetPhotosOf(job) {
  Array.from(held.keys()).filter((key) => key.startsWith(`${job}/`)).forEach((key) => held.delete(key));
  try {
    await inStore("readwrite", (records) => {
      records.delete(IDBKeyRange.bound(`${job}/`, `${job}/\uffff`));
    });
  } catch (refused) { /* never kept */ }
}
