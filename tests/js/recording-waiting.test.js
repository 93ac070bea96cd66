import assert from "node:assert/strict";
import { test } from "node:test";

import { cardIndex, fileName, sorted } from "../../site_templates/recording_page/js/recording.js";
import { makeWaiting } from "../../site_templates/recording_page/js/waiting.js";

const card = (stem, more = {}) => ({ id: stem, stem, text: stem, form: "natural", level: "word", ipa: "", sound: "k", alone: false, files: [], state: "missing", ...more });
const recording = (id, made, stem = "cow", folder = "takes") => ({ id, folder, card: card(stem), wav: new ArrayBuffer(2), cut: false, assessment: null, made });

test("a prompt is known again by what is to be said, not by its place or its state", () => {
  const cards = [card("key"), card("cow", { id: "cow-2", state: "good", files: ["cow.wav"] }), card("cow", { form: "long", stem: "cow-long" })];
  assert.equal(cardIndex(cards, card("cow")), 1);
  for (const other of [{ sound: "s" }, { form: "long" }, { text: "Cow" }, { level: "phrase" }, { alone: true }, { ipa: "kaʊ" }]) {
    assert.equal(cardIndex(cards, card("cow", other)), -1);
  }
});

test("those of these prompts come back, the newest first; others lie apart", () => {
  const all = [recording("1", 1), recording("2", 3), recording("3", 2), recording("4", 4, "sun"), recording("5", 5, "cow", "elsewhere")];
  const { here, elsewhere } = sorted(all, [card("cow")], "takes");
  assert.deepEqual(here.map((one) => one.id), ["2", "3", "1"]);
  assert.deepEqual(elsewhere.map((one) => one.id), ["5", "4"]);
});

test("a file's name is one that the tool finds and nothing has", () => {
  assert.equal(fileName(card("cow"), [card("cow")]), "cow.wav");
  assert.equal(fileName(card("cow"), [card("cow", { files: ["cow.wav", "Cow-2.m4a"] })]), "cow-3.wav");
  assert.equal(fileName(card("bus"), [card("bus", { files: ["bus.wav"] }), card("bus-2")]), "bus-3.wav");
  assert.equal(fileName(card("so-long"), []), "so-long.wav");
});

/** As much of IndexedDB as is used; `fault` says at which step it fails. */
function factory(fault = "") {
  const kept = new Map();
  const later = (target, name) => void setTimeout(() => target[name]?.());
  const answer = (result) => ({ result });
  const store = {
    put: (one) => (fault === "put" ? assert.fail("quota") : answer(void kept.set(one.id, one))),
    delete: (id) => answer(void kept.delete(id)),
    getAll: () => answer([...kept.values()]),
  };
  function transaction() {
    const change = { objectStore: () => store };
    later(change, fault === "abort" ? "onabort" : "oncomplete");
    return change;
  }
  function open() {
    if (fault === "open") throw new Error("forbidden");
    const request = { result: { transaction, createObjectStore: () => {} } };
    later(request, fault === "error" ? "onerror" : "onsuccess");
    return request;
  }
  return { open };
}

test("what is put is there until it is removed", async () => {
  const own = factory();
  const waiting = makeWaiting(() => own);
  assert.equal(await waiting.put(recording("1", 1)), true);
  assert.equal(await waiting.put({ ...recording("1", 1), cut: true }), true);
  assert.deepEqual((await makeWaiting(() => own).all()).map(({ id, cut }) => [id, cut]), [["1", true]]);
  assert.equal(await waiting.remove("1"), true);
  assert.deepEqual(await waiting.all(), []);
});

test("steps are taken in their order, though nobody waits for them", async () => {
  const waiting = makeWaiting(() => factory());
  void waiting.put(recording("1", 1));
  void waiting.put(recording("1", 1));
  void waiting.remove("1");
  assert.deepEqual(await waiting.all(), []);
});

for (const fault of ["open", "error", "put", "abort"]) {
  test(`the page is told when nothing is stored: ${fault}`, async () => {
    const own = factory(fault);
    assert.equal(await makeWaiting(() => own).put(recording("1", 1)), false);
  });
}

test("a browser without a storage, or that forbids it, stores nothing", async () => {
  for (const none of [() => undefined, () => assert.fail("forbidden")]) {
    assert.equal(await makeWaiting(none).put(recording("1", 1)), false);
    assert.deepEqual(await makeWaiting(none).all(), []);
  }
});
