// The device's storage: IndexedDB, with a copy in localStorage. Keys carry the site's
// slug, since all sites of one host share both. Either may be missing; one is enough.

import { mergeSittings } from "./record.js";

/** @import { Settings, Sitting, Store } from "../../../types" */

/**
 * @param {{ indexedDB?: IDBFactory, localStorage?: Storage, storage?: StorageManager }} apis
 * @param {string} site  the slug
 * @returns {Store}
 */
export function makeStore(apis, site) {
  const prefix = `practice:${site}:sitting:`;
  const chosen = `practice:${site}:settings`;
  /** @type {Promise<IDBDatabase | null> | undefined} */
  let database;
  const open = () => (database ??= openDatabase(apis.indexedDB, `practice-${site}`));

  return {
    /** Whether at least one of the two kept it. The copy comes first: it is there even if the page closes now. */
    async save(sitting) {
      const copied = write(apis.localStorage, prefix + sitting.id, sitting);
      const kept = await put(await open(), sitting);
      return copied || kept;
    },
    /** Whether either of the two is there. */
    async keeps() {
      const local = attempt(() => apis.localStorage?.getItem(chosen)) !== undefined;
      return local || (await open()) !== null;
    },
    async all() {
      const copies = read(apis.localStorage, prefix);
      return mergeSittings([...(await everything(await open())), ...copies]);
    },
    /** What the family chose on this device; {} where nothing is kept. @returns {Settings} */
    settings() {
      const known = attempt(() => JSON.parse(apis.localStorage?.getItem(chosen) ?? "{}"));
      return known && typeof known === "object" && !Array.isArray(known) ? known : {};
    },
    /** @param {Settings} change */
    choose(change) {
      return write(apis.localStorage, chosen, { ...this.settings(), ...change });
    },
    async persist() {
      return (await apis.storage?.persist?.().catch(() => false)) ?? false;
    },
  };
}

/** The browser's own; reading one may throw where a browser forbids it. @param {Window} window */
export function browserApis(window) {
  return {
    indexedDB: attempt(() => window.indexedDB),
    localStorage: attempt(() => window.localStorage),
    storage: attempt(() => window.navigator.storage),
  };
}

/** What a browser may forbid even to look at. @template T @param {() => T} reach @returns {T | undefined} */
export function attempt(reach) {
  try {
    return reach();
  } catch {
    return undefined;
  }
}

/** @param {Storage | undefined} storage @param {string} key @param {Sitting | Settings} value */
function write(storage, key, value) {
  if (!storage) return false;
  return attempt(() => (storage.setItem(key, JSON.stringify(value)), true)) ?? false;
}

/** @param {Storage | undefined} storage @param {string} prefix @returns {Sitting[]} */
function read(storage, prefix) {
  if (!storage) return [];
  const keys = Array.from({ length: storage.length }, (_, i) => storage.key(i) ?? "");
  const texts = keys.filter((key) => key.startsWith(prefix)).map((key) => storage.getItem(key) ?? "");
  return texts.map((text) => attempt(() => JSON.parse(text))).filter((s) => s?.record === 1);
}

/** @param {IDBFactory | undefined} factory @param {string} name @returns {Promise<IDBDatabase | null>} */
function openDatabase(factory, name) {
  return new Promise((resolve) => {
    const request = attempt(() => factory?.open(name, 1));
    if (!request) return resolve(null);
    request.onupgradeneeded = () => request.result.createObjectStore("sittings", { keyPath: "id" });
    request.onsuccess = () => resolve(request.result);
    request.onerror = request.onblocked = () => resolve(null);
  });
}

/** @param {IDBDatabase | null} database @param {Sitting} sitting @returns {Promise<boolean>} */
function put(database, sitting) {
  return new Promise((resolve) => {
    const change = attempt(() => database?.transaction("sittings", "readwrite"));
    if (!change) return resolve(false);
    change.oncomplete = () => resolve(true);
    change.onerror = change.onabort = () => resolve(false);
    change.objectStore("sittings").put(sitting);
  });
}

/** @param {IDBDatabase | null} database @returns {Promise<Sitting[]>} */
function everything(database) {
  return new Promise((resolve) => {
    const look = attempt(() => database?.transaction("sittings", "readonly"));
    if (!look) return resolve([]);
    const request = look.objectStore("sittings").getAll();
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => resolve([]);
  });
}
