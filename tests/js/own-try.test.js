import assert from "node:assert/strict";
import { test } from "node:test";

import { browserApis, makeHearYourself } from "../../site_templates/theme/assets/js/hear-yourself.js";
import { afterModel, joined, MAX_OWN_S, mayCompare, mayRecord } from "../../site_templates/theme/assets/js/own-try.js";
import { advance } from "../../site_templates/theme/assets/js/rounds.js";
import { startRun } from "../../site_templates/theme/assets/js/run.js";
import { tasks } from "../../site_templates/theme/assets/js/tasks.js";

const CLIP = { src: "a.mp3", duration: 1, start: null, end: null, spectral_mean: null, peak: -1, loudness: -20, voice: "natural" };
const item = (id) => ({ id, text: id, letters: [[id, true]], picture: null, natural: CLIP, long: null });

/** A run over two words in one round of this support. */
function runOf(support, hears = true) {
  const round = { id: `1-natural-${support}`, form: "natural", support, show: "both", times: 1, contrast: false };
  const step = {
    id: "k-words", name: "words", level: "word", sound: "k", reminder: "", misses: 3, easier: "", changes: false, judges: false, hears,
    rounds: [round], items: [item("key"), item("cow")], pairs: [], imitated: [], passage: null,
  };
  return startRun(tasks({ steps: [step], helper: "home" }));
}
const after = (run, ...types) => types.reduce((now, type) => advance(now, { type }), run);
const supportOf = (run) => advance(run, { type: "mark", mark: "clear", ms: 1000 }).trials[0].support;

test("a try is recorded where a mark may be given, and was not yet", () => {
  const model = runOf("imitation");
  assert.ok(!mayRecord(model), "before the model");
  assert.ok(!mayRecord(after(model, "hear")), "while it plays");
  assert.ok(mayRecord(after(model, "hear", "heard")));
  assert.ok(mayRecord(after(model, "declined")));
  assert.ok(!mayRecord(after(runOf("delayed"), "hear", "heard")), "in the quiet before a delayed try");
  assert.ok(mayRecord(runOf("spontaneous")));
  assert.ok(!mayRecord(advance(runOf("spontaneous"), { type: "mark", mark: "clear", ms: 1000 })), "marked");
  assert.ok(!mayRecord(runOf("spontaneous", false)), "where no program asks for it");
});

test("it is heard before the mark, and once more after a miss", () => {
  const missed = advance(runOf("spontaneous"), { type: "mark", mark: "missed", ms: 1000 });
  assert.ok(mayCompare(runOf("spontaneous")));
  assert.ok(!mayCompare(missed));
  assert.ok(mayCompare(after(missed, "next")));
});

test("hearing oneself changes nothing of the support; a try after the model is one after a model", () => {
  for (const support of ["spontaneous", "imitation", "delayed"]) {
    const run = support === "spontaneous" ? runOf(support) : after(runOf(support), "hear", "heard", "waited");
    assert.equal(supportOf(run), support);
    assert.equal(supportOf(afterModel(run)), "imitation");
  }
  assert.equal(supportOf(afterModel(after(runOf("delayed"), "declined"))), "imitation");
});

test("blocks are joined, no longer than it may be, and as loud as a clip", () => {
  const two = joined([Float32Array.of(0.1, -0.2), Float32Array.of(0.35)], 48000);
  assert.deepEqual([...two].map((sample) => Math.round(sample * 100)), [20, -40, 70]);
  assert.deepEqual([...joined([Float32Array.of(1, -1)], 48000)].map((sample) => Math.round(sample * 100)), [70, -70]);
  assert.deepEqual([...joined([Float32Array.of(0.01)], 48000)].map((sample) => Math.round(sample * 100)), [8], "a room is not lifted without end");
  assert.equal(joined([new Float32Array(9000)], 1000).length, MAX_OWN_S * 1000);
  assert.deepEqual([...joined([], 48000)], []);
});

/** All around it, which writes down what happens. */
function practice({ refuse = "", apis, run = after(runOf("imitation"), "hear", "heard") } = {}) {
  const log = [];
  const session = {};
  Object.defineProperty(session, "type", { set: (type) => log.push(type) });
  const track = { stop: () => log.push("track stopped"), getSettings: () => ({}), onended: null };
  const node = { connect: (to) => to };
  let tap;
  class AudioContext {
    sampleRate = 1000;
    destination = node;
    audioWorklet = { addModule: async () => {} };
    async resume() {}
    async close() { log.push("closed"); }
    createMediaStreamSource() { return node; }
  }
  class AudioWorkletNode { port = { onmessage: null }; connect = (to) => to; constructor() { tap = this; } }
  const getUserMedia = async ({ audio }) => {
    log.push(`asked ${Object.keys(audio).filter((key) => audio[key] === false).length}`);
    if (refuse) throw Object.assign(new Error(), { name: refuse });
    return { getAudioTracks: () => [track], getTracks: () => [track] };
  };
  const state = { run, shown: "" };
  const sound = {
    play: async ({ src }) => (log.push(`play ${src}`), "heard"),
    keepOwn: (samples, rate) => (log.push(`keep ${samples.length} at ${rate}`), true),
    dropOwn: () => log.push("drop"),
  };
  const around = {
    run: () => state.run, become: (next) => { state.run = next; }, quiet: () => yourself.quiet(), show: (focus) => { state.shown = focus ?? state.shown; },
    playing: () => {}, play: async (clip) => (log.push(`play ${clip.src}`), true),
  };
  apis ??= { mediaDevices: { getUserMedia }, AudioContext, AudioWorkletNode, navigator: { audioSession: session } };
  globalThis.document ??= fakeDocument();
  const yourself = makeHearYourself(sound, (key) => key, around, apis);
  return { log, state, yourself, hear: (samples) => tap.port.onmessage({ data: Float32Array.from(samples) }), lose: () => track.onended() };
}

/** As much of a document as buttons need; a tap on one is `.tap()`. */
function fakeDocument() {
  const make = () => {
    const listeners = {};
    return { dataset: {}, addEventListener: (name, act) => { listeners[name] = act; }, setAttribute() {}, append() {}, tap: () => listeners.click() };
  };
  return { createElement: make, createElementNS: make };
}
const moment = () => new Promise((resolve) => setTimeout(resolve, 1));

test("a try is recorded with nothing done to it, and the microphone is closed before it is heard", async () => {
  const { log, state, yourself, hear } = practice();
  yourself.record(state.run).tap();
  assert.equal(yourself.prompt(state.run), "yourself.wait");
  await moment();
  assert.equal(yourself.prompt(state.run), "yourself.now");
  hear([0.1, 0.2, 0.3]);
  yourself.instead(state.run)[0].tap();
  assert.deepEqual(log, ["drop", "play-and-record", "asked 3", "track stopped", "closed", "playback", "keep 3 at 1000"]);
  assert.equal(state.shown, "own-hear");
  yourself.instead(state.run)[0].tap();
  await moment();
  assert.deepEqual(log.slice(7), ["play a.mp3", "play own"]);
  assert.equal(supportOf(state.run), "imitation");
  yourself.drop();
  assert.equal(yourself.instead(state.run), null);
  assert.deepEqual(log.slice(9), ["drop"]);
});

test("it ends by itself, and when the microphone is taken away", async () => {
  const { log, state, yourself, hear, lose } = practice();
  yourself.record(state.run).tap();
  await moment();
  hear(Array(MAX_OWN_S * 1000).fill(0.1));
  assert.equal(log.at(-1), "keep 6000 at 1000");
  yourself.drop();
  yourself.record(state.run).tap();
  await moment();
  hear([0.1]);
  lose();
  assert.equal(log.at(-1), "keep 1 at 1000");
  assert.equal(log.filter((line) => line === "closed").length, 2);
});

test("what is called off leaves nothing, whether it was opening or recorded", async () => {
  const { log, state, yourself, hear } = practice();
  yourself.record(state.run).tap();
  yourself.quiet(); // a mark, while the browser still asks
  await moment();
  assert.equal(log.at(-1), "closed");
  yourself.record(state.run).tap();
  await moment();
  hear([0.1]);
  yourself.quiet();
  assert.equal(yourself.instead(state.run), null);
  assert.deepEqual(log.filter((line) => line.startsWith("keep")), []);
  assert.equal(log.filter((line) => line === "track stopped").length, 2);
});

for (const refuse of ["NotAllowedError", "NotFoundError", "NotReadableError"]) {
  test(`refused (${refuse}), it is said once and then no more asked`, async () => {
    const { log, state, yourself } = practice({ refuse });
    yourself.record(state.run).tap();
    await moment();
    assert.equal(yourself.note(), "yourself.refused");
    assert.equal(yourself.record(state.run), false);
    assert.equal(log.at(-1), "playback");
    yourself.drop(); // the next word
    assert.equal(yourself.note(), "");
    assert.equal(yourself.record(state.run), false);
  });
}

test("a try after the model was heard once more is one after a model", async () => {
  const { state, yourself, hear } = practice({ run: runOf("spontaneous") });
  yourself.record(state.run).tap();
  await moment();
  hear([0.1]);
  yourself.instead(state.run)[0].tap();
  yourself.instead(state.run)[0].tap(); // heard
  await moment();
  assert.equal(supportOf(state.run), "spontaneous");
  yourself.instead(state.run)[1].tap(); // recorded again
  await moment();
  assert.equal(supportOf(state.run), "imitation");
});

test("a page that is not served securely has no microphone to ask for, and says the same", async () => {
  const { state, yourself } = practice({ apis: browserApis({ navigator: {} }) });
  yourself.record(state.run).tap();
  await moment();
  assert.equal(yourself.note(), "yourself.refused");
});
