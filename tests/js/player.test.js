import assert from "node:assert/strict";
import { test } from "node:test";

import { makePlayer } from "../../site_templates/theme/assets/js/player.js";

/** Browser functions that write down what happens. `moves`: whether the context's clock runs. */
function fakeBrowser({ webAudio = true, moves = true, ok = true, refuses = false } = {}) {
  const log = [];
  class Context {
    state = "suspended";
    #time = 0;
    get currentTime() { return moves ? ++this.#time : 0; }
    destination = {};
    constructor() { log.push("context"); }
    async resume() { this.state = "running"; }
    async close() { log.push("close"); }
    async decodeAudioData(bytes) { log.push("decode"); return bytes; }
    createGain() {
      const gain = { value: 1 };
      return { gain, connect: (to) => log.push(`gain ${gain.value}${to === this.destination ? "" : " to nothing"}`) };
    }
    createBufferSource() {
      const node = {
        connect() {}, stop() { node.onended?.(); },
        start: () => { log.push("start"); if (moves) setTimeout(() => node.onended?.(), 1); },
      };
      return node;
    }
  }
  const audio = { pause() {}, play: () => { log.push(`element ${audio.src}`); setTimeout(() => audio.onended?.(), 1); return refuses ? Promise.reject(new Error("no")) : Promise.resolve(); } };
  return {
    log,
    AudioContext: webAudio ? Context : undefined,
    fetch: async (source) => { log.push(`fetch ${source}`); return { ok, arrayBuffer: async () => new ArrayBuffer(8) }; },
    makeAudio: () => audio,
    navigator: { audioSession: { type: "auto" } },
    pause: (ms) => new Promise((resolve) => setTimeout(resolve, ms / 20)),
  };
}

test("a clip is fetched and decoded once, before it is played", async () => {
  const browser = fakeBrowser();
  const player = makePlayer(browser);
  await player.unlock();
  await player.load(["a.mp3", "a.mp3"]);
  assert.deepEqual(browser.log, ["context", "fetch a.mp3", "decode"]);
  assert.equal(await player.play("a.mp3"), true);
  assert.equal(await player.play("a.mp3"), true);
  assert.deepEqual(browser.log.slice(3), ["start", "start"]);
  assert.equal(browser.navigator.audioSession.type, "playback");
});

test("without Web Audio the element plays", async () => {
  const browser = fakeBrowser({ webAudio: false });
  assert.equal(await makePlayer(browser).play("a.mp3"), true);
  assert.deepEqual(browser.log, ["element a.mp3"]);
});

test("a clip can be played softer, by either way", async () => {
  const browser = fakeBrowser();
  assert.equal(await makePlayer(browser).play("a.mp3", 0.5), true);
  assert.deepEqual(browser.log.slice(-2), ["gain 0.5", "start"]);
  const plain = fakeBrowser({ webAudio: false });
  const player = makePlayer(plain);
  await player.play("a.mp3", 0.5);
  assert.equal(plain.makeAudio().volume, 0.5);
  await player.play("a.mp3");
  assert.equal(plain.makeAudio().volume, 1);
});

test("a clip that is not there is told, not thrown", async () => {
  const browser = fakeBrowser({ ok: false, refuses: true });
  const player = makePlayer(browser);
  assert.equal(await player.play("a.mp3"), false);
  assert.equal(await player.has("a.mp3"), false, "it never came");
  const loaded = makePlayer(fakeBrowser());
  await loaded.load(["a.mp3"]);
  assert.equal(await loaded.has("a.mp3"), true);
});

test("a context that stands still is replaced by a new one", async () => {
  const browser = fakeBrowser({ moves: false });
  const player = makePlayer(browser);
  await player.unlock();
  const played = player.play("a.mp3");
  await new Promise((resolve) => setTimeout(resolve, 60));
  player.stop();
  assert.equal(await played, true);
  assert.deepEqual(browser.log, ["context", "fetch a.mp3", "decode", "start", "close", "context", "start"]);
});
