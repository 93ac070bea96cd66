import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";

import { makeStore } from "../../site_templates/theme/assets/js/store.js";

const sitting = JSON.parse(await readFile(new URL("./sitting.json", import.meta.url), "utf8"));

/** A Storage over a Map. */
function memory(map = new Map()) {
  return {
    get length() { return map.size; },
    key: (i) => [...map.keys()][i] ?? null,
    getItem: (key) => map.get(key) ?? null,
    setItem: (key, value) => void map.set(key, value),
  };
}

const full = { length: 0, key: () => null, getItem: () => null, setItem: () => { throw new Error("quota"); } };
const broken = { open: () => { throw new Error("forbidden"); } };

test("what was saved is there again, under the site's own name", async () => {
  const map = new Map();
  const store = makeStore({ localStorage: memory(map) }, sitting.site);
  assert.equal(await store.save(sitting), true);
  assert.deepEqual(await store.all(), [sitting]);
  assert.deepEqual([...map.keys()], [`practice:${sitting.site}:sitting:${sitting.id}`]);
});

test("the copy is written before anything is waited for", () => {
  const map = new Map();
  void makeStore({ localStorage: memory(map) }, sitting.site).save(sitting);
  assert.equal(map.size, 1);
});

test("another site of the same host sees nothing of it", async () => {
  const map = new Map();
  await makeStore({ localStorage: memory(map) }, sitting.site).save(sitting);
  assert.deepEqual(await makeStore({ localStorage: memory(map) }, "0000000000000").all(), []);
});

test("a damaged copy is passed over", async () => {
  const key = `practice:${sitting.site}:sitting:`;
  const map = new Map([[`${key}a`, "{"], [`${key}b`, "null"], [`${key}c`, JSON.stringify(sitting)]]);
  assert.deepEqual(await makeStore({ localStorage: memory(map) }, sitting.site).all(), [sitting]);
});

const closed = [
  ["no storage at all", {}],
  ["a full memory", { localStorage: full }],
  ["a forbidden data base", { indexedDB: broken, localStorage: full }],
];
for (const [name, apis] of closed) {
  test(`the page is told when nothing is kept: ${name}`, async () => {
    const store = makeStore(apis, sitting.site);
    assert.equal(await store.save(sitting), false);
    assert.deepEqual(await store.all(), []);
    assert.equal(await store.persist(), false);
  });
}

test("one kind of storage is enough", async () => {
  assert.equal(await makeStore({ indexedDB: broken, localStorage: memory() }, sitting.site).save(sitting), true);
});

test("what the family chose is kept for this site alone; where nothing is kept, nothing breaks", () => {
  const localStorage = memory();
  const [ours, theirs] = [makeStore({ localStorage }, "aaa"), makeStore({ localStorage }, "bbb")];
  assert.deepEqual(ours.settings(), {});
  assert.equal(ours.choose({ paused: true }), true);
  assert.equal(ours.choose({ paced: false }), true);
  assert.deepEqual(ours.settings(), { paused: true, paced: false });
  assert.deepEqual(theirs.settings(), {});
  localStorage.setItem("practice:aaa:settings", "{broken");
  assert.deepEqual(ours.settings(), {});
  assert.equal(makeStore({}, "aaa").choose({ paused: true }), false);
});

test("a device keeps something where either of the two is there", async () => {
  const forbidden = { getItem: () => { throw new Error("forbidden"); } };
  assert.equal(await makeStore({ localStorage: memory() }, sitting.site).keeps(), true);
  assert.equal(await makeStore({ indexedDB: broken, localStorage: forbidden }, sitting.site).keeps(), false);
  assert.equal(await makeStore({}, sitting.site).keeps(), false);
});
