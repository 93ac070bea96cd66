import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";

import { makeOffering } from "../../site_templates/theme/assets/js/offering.js";
import { makeStore } from "../../site_templates/theme/assets/js/store.js";

const sitting = JSON.parse(await readFile(new URL("./sitting.json", import.meta.url), "utf8"));
const NOW = new Date(2026, 11, 4, 17, 0);

/** A device that kept so many finished sittings and one that broke off. */
async function device({ sittings = 3, prompt = null, persist = true, keeps = true } = {}) {
  const map = new Map();
  const localStorage = {
    get length() { return map.size; },
    key: (i) => [...map.keys()][i] ?? null,
    getItem: (key) => map.get(key) ?? null,
    setItem: (key, value) => { if (!keeps) throw new Error("full"); map.set(key, value); },
  };
  const store = makeStore({ localStorage, storage: { persist: async () => persist } }, sitting.site);
  for (const id of Array.from({ length: sittings }, (_, i) => `${i}`)) await store.save({ ...sitting, id, end: "done" });
  await store.save({ ...sitting, id: "broken-off", end: "" });
  const offering = makeOffering(store, () => prompt, { standalone: false, byHand: false, persisted: async () => false });
  return { store, offering };
}

test("a sitting that broke off counts as none, and what was offered today is not offered again", async () => {
  assert.equal(await (await device({ sittings: 2 })).offering.find("done", NOW), null);
  const { offering, store } = await device();
  assert.deepEqual(await offering.find("done", NOW), { kind: "keep", byHand: false, answer: "" });
  assert.equal(store.settings().offered, "2026-12-04");
  assert.equal(await offering.find("done", NOW), null);
  assert.equal((await offering.find("done", new Date(2026, 11, 5, 9, 0))).kind, "keep");
});

test("where nothing is kept nothing is offered: it would be asked each time", async () => {
  assert.equal(await (await device({ keeps: false })).offering.find("done", NOW), null);
});

test("the browser's own question is asked in the tap", async () => {
  for (const [outcome, answer] of [["accepted", "done"], ["dismissed", null]]) {
    let asked = 0;
    const prompt = { prompt: async () => { asked += 1; }, userChoice: Promise.resolve({ outcome }) };
    const { offering } = await device({ prompt });
    const offered = await offering.find("done", NOW);
    assert.deepEqual([offered.kind, offered.byHand], ["install", false]);
    const taken = offering.take(offered);
    assert.equal(asked, 1, "at once");
    assert.equal((await taken)?.answer ?? null, answer);
  }
});

test("a browser that will not keep for good is not asked again; nor is a family that said never", async () => {
  const denying = await device({ persist: false });
  assert.equal((await denying.offering.take({ kind: "keep", byHand: false, answer: "" })).answer, "no");
  assert.deepEqual(denying.store.settings().refused, ["keep"]);
  const { offering, store } = await device();
  assert.equal((await offering.take({ kind: "keep", byHand: false, answer: "" })).answer, "done");
  offering.refuse({ kind: "keep", byHand: false, answer: "" });
  assert.deepEqual(store.settings().refused, ["keep"]);
});
