// The door to the worker that keeps the whole site on this device (site_templates/worker/sw.js): it is
// begun once nothing else waits for the network, and a newer version is let in only between two runs.

import { attempt } from "./store.js";

const GONE = [404, 410];

/**
 * @typedef {object} Surroundings
 * @property {ServiceWorkerContainer} [container]  none where the page came without https
 * @property {LockManager} [locks]  held by each page of the site in which a run is on
 * @property {CacheStorage} [caches]
 * @property {(address: string) => Promise<{ status: number, text: () => Promise<string> }>} fetch
 * @property {{ address: string, data: string, again: boolean }} page  this one, what it was given, and whether it was loaded anew
 * @property {string} top  address of the site
 * @property {string} site  the slug
 * @property {boolean} sparing  whether the family asked for little data
 * @property {() => boolean} busy  whether a run is on in this page
 * @property {() => void} reload
 */

/** @param {Surroundings} surroundings */
export function makeOffline({ container, locks, caches, fetch, page, top, site, sparing, busy, reload }) {
  const [worker, lock] = [`${top}sw.js`, `practice-${site}`];
  let before = Boolean(container?.controller); // else the first version comes in, which is that of the page
  let held = false;
  let release = () => {};
  container?.addEventListener("controllerchange", () => {
    if (before && !busy()) reload();
    before = true;
  });

  /** Ours alone: the host may have a worker of its own. */
  async function registration() {
    const found = await container?.getRegistration(top).catch(() => undefined);
    return found?.scope === top ? found : undefined;
  }

  /**
   * Whether another version came in while this page was being fetched, before anybody could hear of it:
   * what the page loads later would be of that one.
   */
  async function isOld() {
    if (!container?.controller || page.again) return false; // once is enough
    const answer = await fetch(page.address).catch(() => null);
    return answer?.status === 200 && !(await answer.text()).includes(page.data);
  }

  /** @param {ServiceWorker} waiting */
  async function change(waiting) {
    const ask = () => busy() || waiting.postMessage("use-now");
    if (locks) await locks.request(lock, { ifAvailable: true }, (free) => free && ask());
    else ask();
  }

  /**
   * A site that its clinic took away goes from here, too; what was practiced stays. By itself a browser
   * would keep its worker for ever.
   * @param {ServiceWorkerRegistration} found
   */
  async function leave(found) {
    const seen = await Promise.all([worker, `${top}practice.json`].map((address) => fetch(address).catch(() => null)));
    if (!seen.every((answer) => answer && GONE.includes(answer.status))) return;
    await found.unregister();
    await caches?.delete(`practice-${site}`);
    if (!busy()) reload();
  }

  return {
    /** Whether all of the site is here. */
    ready: async () => Boolean((await registration())?.active),
    /** When the page is there, or is seen again: a newer version that waits comes in; else it is looked for. */
    async renew() {
      const found = await registration();
      if (!found || busy()) return;
      if ((await isOld()) && !busy()) reload();
      else if (found.waiting) await change(found.waiting);
      else await found.update().catch(() => leave(found));
    },
    /** Begin; true once all of the site is here. */
    async keep() {
      if (!container || sparing) return false;
      try {
        const made = await container.register(worker, { scope: top, updateViaCache: "none" });
        return await activated(made);
      } catch {
        return false; // a full or forbidden storage, no connection: the page works as before
      }
    },
    /** A run begins: nothing is changed meanwhile, and what is being fetched lets it go first. */
    async hold() {
      if (held) return;
      held = true;
      const over = new Promise((resolve) => { release = () => resolve(undefined); });
      void locks?.request(lock, { mode: "shared" }, () => over).catch(() => undefined);
      (await registration())?.installing?.postMessage("stand-back");
    },
    /** It is left. */
    free() {
      release();
      held = false;
    },
  };
}

/** @param {ServiceWorkerRegistration} made @returns {Promise<boolean>} */
async function activated(made) {
  const worker = made.installing ?? made.waiting ?? made.active;
  if (made.active || !worker) return Boolean(made.active);
  return new Promise((resolve) => {
    worker.addEventListener("statechange", () => {
      if (worker.state === "activated") resolve(true);
      if (worker.state === "redundant") resolve(false);
    });
  });
}

/**
 * The browser's own. At 127.0.0.1 a clinic looks at a site while it is written: there nothing is kept.
 * @param {Window & typeof globalThis} window @param {string} root  the way from this page to the top
 */
export function browserApis(window, root) {
  const { navigator, location } = window;
  const published = window.isSecureContext && location.hostname !== "127.0.0.1";
  const line = /** @type {{ connection?: { saveData?: boolean } }} */ (navigator).connection;
  return {
    container: published ? attempt(() => navigator.serviceWorker) : undefined,
    locks: attempt(() => navigator.locks),
    caches: published ? attempt(() => window.caches) : undefined,
    fetch: (/** @type {string} */ address) => window.fetch(address, { cache: "no-store" }),
    page: {
      address: location.href.replace(/#.*/s, ""),
      data: (window.document.getElementById("practice-data")?.textContent ?? "").trim(),
      again: /** @type {PerformanceNavigationTiming[]} */ (window.performance.getEntriesByType("navigation"))[0]?.type === "reload",
    },
    top: new URL(root, location.href).href,
    sparing: line?.saveData === true && !window.matchMedia("(display-mode: standalone)").matches,
    reload: () => location.reload(),
  };
}
