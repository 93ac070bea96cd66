// The browser's storage of recordings that were not kept yet (IndexedDB). Where there is none,
// they are in the page alone.

/** @import { Recording } from "../types" */

const DATABASE = "recordings";
const STORE = "waiting";

/** @param {() => IDBFactory | undefined} factory  may throw where a browser forbids it */
export function makeWaiting(factory) {
  /** @type {Promise<IDBDatabase | null> | undefined} */
  let database;

  /** One step after the other, in their order. @template T @param {IDBTransactionMode} mode @param {(store: IDBObjectStore) => IDBRequest<T>} act @returns {Promise<{ done: boolean, result?: T }>} */
  async function run(mode, act) {
    const open = await (database ??= openDatabase(factory));
    if (!open) return { done: false };
    return new Promise((resolve) => {
      try {
        const change = open.transaction(STORE, mode);
        const request = act(change.objectStore(STORE));
        change.oncomplete = () => resolve({ done: true, result: request.result });
        change.onerror = change.onabort = () => resolve({ done: false });
      } catch {
        resolve({ done: false });
      }
    });
  }

  return {
    /** Whether it is stored. @param {Recording} recording */
    put: async (recording) => (await run("readwrite", (store) => store.put(recording))).done,
    /** @param {string} id */
    remove: async (id) => (await run("readwrite", (store) => store.delete(id))).done,
    /** @returns {Promise<Recording[]>} */
    all: async () => (await run("readonly", (store) => store.getAll())).result ?? [],
  };
}

/** @param {() => IDBFactory | undefined} factory @returns {Promise<IDBDatabase | null>} */
function openDatabase(factory) {
  return new Promise((resolve) => {
    try {
      const request = factory()?.open(DATABASE, 1);
      if (!request) return resolve(null);
      request.onupgradeneeded = () => request.result.createObjectStore(STORE, { keyPath: "id" });
      request.onsuccess = () => resolve(request.result);
      request.onerror = request.onblocked = () => resolve(null);
    } catch {
      resolve(null);
    }
  });
}
