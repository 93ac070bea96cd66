import assert from "node:assert/strict";
import { test } from "node:test";

import { makeCapture } from "../../site_templates/recording_page/js/capture.js";

/** A browser whose microphone is played by hand, at 100 Hz. */
function room() {
  const track = { stop() {}, getSettings: () => ({}), onended: null };
  const node = { connect: (next) => next };
  const ports = [];
  class AudioContext {
    sampleRate = 100;
    audioWorklet = { addModule: async () => {} };
    async resume() {}
    async close() {}
    createMediaStreamSource() { return node; }
  }
  class AudioWorkletNode { port = {}; connect = (next) => next; constructor() { ports.push(this.port); } }
  const stream = { getAudioTracks: () => [track], getTracks: () => [track] };
  const getUserMedia = async () => stream;
  return { apis: { AudioContext, AudioWorkletNode, mediaDevices: { getUserMedia } }, track, hear: (...samples) => ports.at(-1).onmessage({ data: Float32Array.from(samples) }) };
}

const samples = (wav) => new DataView(wav).getUint32(40, true) / 3; // 24 bits each

test("only what is heard between begin and end is recorded", async () => {
  const { apis, hear } = room();
  const levels = [];
  const capture = makeCapture(apis, { onLevel: (level) => levels.push(level.now) });
  await capture.open("");
  hear(0.5, 0.5);
  capture.begin();
  hear(0.25, 0.25);
  hear(0.25, 0);
  assert.equal(samples(capture.end(false)), 4);
  hear(0.5, 0.5);
  assert.equal(levels.length, 4);
  assert.equal(capture.end(false), null);
});

test("pulled out, the recording can still be ended; zeros that came last are no part of it", async () => {
  const { apis, hear, track } = room();
  const ended = [];
  const capture = makeCapture(apis, { onLevel: () => {}, onLost: () => ended.push(capture.end(true)) });
  await capture.open("");
  capture.begin();
  hear(0.25, 0, 0.25, 0);
  hear(0, 0, 0, 0);
  track.onended();
  assert.equal(samples(ended[0]), 3);
  assert.deepEqual(capture.notices, []);
  hear(0.25, 0.25);
  assert.equal(capture.end(false), null);
});

test("a recording of thirty seconds is full", async () => {
  const { apis, hear } = room();
  let full = 0;
  const capture = makeCapture(apis, { onLevel: () => {}, onFull: () => full++ });
  await capture.open("");
  hear(...Array(3100).fill(0.1));
  assert.equal(full, 0);
  capture.begin();
  hear(...Array(3100).fill(0.1));
  assert.equal(full, 1);
});

test("a microphone that does not open leaves none", async () => {
  const { apis, hear } = room();
  const capture = makeCapture(apis, { onLevel: () => assert.fail("heard") });
  await capture.open("");
  apis.mediaDevices.getUserMedia = async () => assert.fail("refused");
  await assert.rejects(capture.open("usb"));
  hear(0.5, 0.5);
});
