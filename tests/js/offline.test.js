import assert from "node:assert/strict";
import { test } from "node:test";

import { makeOffline } from "../../site_templates/theme/assets/js/offline.js";

const TOP = "https://host.example/aaaaaaaaaaaaa/";

/** A browser with one registration, or none; what it was asked for. */
function browser({ active = true, waiting = false, scope = TOP, online = true, gone = false, held = false, busy = false, sparing = false, locks = true, holds = "the page: as it is", again = false } = {}) {
  const done = [];
  const heard = {};
  const found = active && {
    scope, active: {}, waiting: waiting ? { postMessage: (text) => done.push(text) } : null,
    installing: { postMessage: (text) => done.push(text) },
    update: async () => { done.push("update"); if (gone || !online) throw new TypeError("404"); },
    unregister: async () => void done.push("unregister"),
  };
  const state = { busy };
  return {
    done, state, heard,
    offline: makeOffline({
      container: {
        controller: active ? {} : null,
        addEventListener: (name, does) => { heard[name] = does; },
        getRegistration: async () => found || undefined,
        register: async (address, options) => (done.push([address, options]), { active: {} }),
      },
      locks: locks ? { request: async (_name, how, work) => work(how.ifAvailable && held ? null : {}) } : undefined,
      caches: { delete: async (name) => void done.push(`delete ${name}`) },
      fetch: async () => { if (!online) throw new TypeError("no network"); return { status: gone ? 404 : 200, text: async () => holds }; },
      page: { address: `${TOP}k-words/`, data: "as it is", again },
      top: TOP, site: "aaaaaaaaaaaaa", sparing, busy: () => state.busy, reload: () => void done.push("reload"),
    }),
  };
}

const renewed = async (how) => {
  const one = browser(how);
  await one.offline.renew();
  return one.done;
};

test("a version that waits comes in, unless a run is on, in this page or another", async () => {
  assert.deepEqual(await renewed({ waiting: true }), ["use-now"]);
  assert.deepEqual(await renewed({ waiting: true, locks: false }), ["use-now"]);
  assert.deepEqual(await renewed({ waiting: true, busy: true }), []);
  assert.deepEqual(await renewed({ waiting: true, held: true }), []);
  assert.deepEqual(await renewed({}), ["update"]);
  assert.deepEqual(await renewed({ active: false }), []);
});

test("a page of a version that is no longer kept is loaded anew, though nobody heard it change", async () => {
  assert.deepEqual(await renewed({ holds: "the page: another" }), ["reload"]);
  assert.deepEqual(await renewed({ holds: "the page: another", waiting: true }), ["reload"]);
  assert.deepEqual(await renewed({ holds: "the page: another", busy: true }), []);
  assert.deepEqual(await renewed({ holds: "the page: another", again: true }), ["update"], "and once alone");
  assert.deepEqual(await renewed({ holds: "the page: another", gone: true }), ["update", "unregister", "delete practice-aaaaaaaaaaaaa", "reload"]);
});

test("a page that was there before is loaded anew; a first version changes nothing under it", () => {
  const change = ({ active, busy = false }) => {
    const one = browser({ active, busy });
    one.heard.controllerchange();
    return one.done;
  };
  assert.deepEqual(change({ active: true }), ["reload"]);
  assert.deepEqual(change({ active: true, busy: true }), []);
  assert.deepEqual(change({ active: false }), []);
});

test("a worker of the host's own is not ours", async () => {
  assert.deepEqual(await renewed({ scope: "https://host.example/", waiting: true }), []);
  assert.equal(await browser({ scope: "https://host.example/" }).offline.ready(), false);
  assert.equal(await browser().offline.ready(), true);
});

test("a site that is gone from its host goes from here; one that cannot be reached stays", async () => {
  assert.deepEqual(await renewed({ gone: true }), ["update", "unregister", "delete practice-aaaaaaaaaaaaa", "reload"]);
  assert.deepEqual(await renewed({ online: false }), ["update"]);
});

test("it is kept for this site alone, past no cache, and not where little data is wanted", async () => {
  const one = browser({ active: false });
  assert.equal(await one.offline.keep(), true);
  assert.deepEqual(one.done, [[`${TOP}sw.js`, { scope: TOP, updateViaCache: "none" }]]);
  const sparing = browser({ active: false, sparing: true });
  assert.equal(await sparing.offline.keep(), false);
  assert.deepEqual(sparing.done, []);
});

test("a page without https, and a storage that refuses, go on as before", async () => {
  const bare = makeOffline({ fetch: async () => ({ status: 200 }), top: TOP, site: "a", sparing: false, busy: () => false, reload: () => assert.fail() });
  await bare.renew();
  await bare.hold();
  bare.free();
  assert.deepEqual([await bare.keep(), await bare.ready()], [false, false]);
  const refusing = { addEventListener: () => {}, getRegistration: async () => { throw new Error("denied"); }, register: async () => { throw new Error("denied"); } };
  const denied = makeOffline({ container: refusing, fetch: async () => ({ status: 200 }), top: TOP, site: "a", sparing: false, busy: () => false, reload: () => assert.fail() });
  await denied.renew();
  assert.deepEqual([await denied.keep(), await denied.ready()], [false, false]);
});

test("what is being fetched stands back for a run", async () => {
  const one = browser();
  await one.offline.hold();
  await one.offline.hold();
  assert.deepEqual(one.done, ["stand-back"]);
  one.offline.free();
  await one.offline.hold();
  assert.deepEqual(one.done, ["stand-back", "stand-back"]);
});
