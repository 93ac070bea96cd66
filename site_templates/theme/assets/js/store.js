// The door to the device's memory: IndexedDB, with a copy in localStorage. Keys carry the site's
// slug, since all sites of one host share both. Neither door may be there; one is enough.

import { union } from "./record.js";

/** @import { Sitting, Store } from "../../../types" */

/**
 * @param {{ indexedDB?: IDBFactory, localStorage?: Storage, storage?: StorageManager }} doors
 * @param {string} site  the slug
 * @returns {Store}
 */
export function makeStore(doors, site) {
  const head = `practice:${site}:sitting:`;
  /** @type {Promise<IDBDatabase | null> | undefined} */
  let opened;
  const base = () => (opened ??= open(doors.indexedDB, `practice-${site}`));

  return {
    /** Whether at least one door kept it. The copy comes first: it is there even if the page closes now. */
    async save(sitting) {
      const copied = write(doors.localStorage, head + sitting.id, sitting);
      const kept = await put(await base(), sitting);
      return copied || kept;
    },
    async all() {
      const copies = read(doors.localStorage, head);
      return union([...(await everything(await base())), ...copies]);
    },
    async persist() {
      return (await doors.storage?.persist?.().catch(() => false)) ?? false;
    },
  };
}

/** The real doors; reaching for one may throw where a browser forbids it. @param {Window} window */
export function doorsOf(window) {
  return {
    indexedDB: attempt(() => window.indexedDB),
    localStorage: attempt(() => window.localStorage),
    storage: attempt(() => window.navigator.storage),
  };
}

/** @template T @param {() => T} reach @returns {T | undefined} */
function attempt(reach) {
  try {
    return reach();
  } catch {
    return undefined;
  }
}

/** @param {Storage | undefined} storage @param {string} key @param {Sitting} sitting */
function write(storage, key, sitting) {
  if (!storage) return false;
  return attempt(() => (storage.setItem(key, JSON.stringify(sitting)), true)) ?? false;
}

/** @param {Storage | undefined} storage @param {string} head @returns {Sitting[]} */
function read(storage, head) {
  if (!storage) return [];
  const keys = Array.from({ length: storage.length }, (_, i) => storage.key(i) ?? "");
  const texts = keys.filter((key) => key.startsWith(head)).map((key) => storage.getItem(key) ?? "");
  return texts.map((text) => attempt(() => JSON.parse(text))).filter((s) => s?.record === 1);
}

/** @param {IDBFactory | undefined} factory @param {string} name @returns {Promise<IDBDatabase | null>} */
function open(factory, name) {
  return new Promise((resolve) => {
    const request = attempt(() => factory?.open(name, 1));
    if (!request) return resolve(null);
    request.onupgradeneeded = () => request.result.createObjectStore("sittings", { keyPath: "id" });
    request.onsuccess = () => resolve(request.result);
    request.onerror = request.onblocked = () => resolve(null);
  });
}

/** @param {IDBDatabase | null} base @param {Sitting} sitting @returns {Promise<boolean>} */
function put(base, sitting) {
  return new Promise((resolve) => {
    const change = attempt(() => base?.transaction("sittings", "readwrite"));
    if (!change) return resolve(false);
    change.oncomplete = () => resolve(true);
    change.onerror = change.onabort = () => resolve(false);
    change.objectStore("sittings").put(sitting);
  });
}

/** @param {IDBDatabase | null} base @returns {Promise<Sitting[]>} */
function everything(base) {
  return new Promise((resolve) => {
    const look = attempt(() => base?.transaction("sittings", "readonly"));
    if (!look) return resolve([]);
    const request = look.objectStore("sittings").getAll();
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => resolve([]);
  });
}
