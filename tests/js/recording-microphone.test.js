import assert from "node:assert/strict";
import { test } from "node:test";

import { NoMicrophone, isThere, microphones, notices, onDeviceChange, openMicrophone } from "../../site_templates/recording_page/js/microphone.js";

/** The browser's part, which writes down what is asked. */
function browserApis({ settings = {}, refuse = "" } = {}) {
  const asked = [];
  const track = { stop() { asked.push("stopped"); }, getSettings: () => settings, onended: null };
  const node = { connect: (next) => next };
  class AudioContext {
    sampleRate = 48000;
    destination = node;
    audioWorklet = { addModule: async (path) => asked.push(path) };
    async resume() {}
    async close() { asked.push("closed"); }
    createMediaStreamSource() { return node; }
  }
  class AudioWorkletNode { port = { onmessage: null }; connect = (next) => next; constructor() { browserApis.last = this; } }
  const getUserMedia = async (how) => {
    asked.push(how);
    if (refuse) throw Object.assign(new Error(), { name: refuse });
    return { getAudioTracks: () => [track], getTracks: () => [track] };
  };
  return { asked, track, AudioContext, AudioWorkletNode, mediaDevices: { getUserMedia } };
}

test("the microphone is asked to do nothing to the sound", async () => {
  const apis = browserApis();
  await openMicrophone(apis, "", () => {}, () => {});
  assert.deepEqual(apis.asked[0], {
    audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false, channelCount: 1 },
  });
});

test("a chosen microphone is that one and no other", async () => {
  const apis = browserApis();
  await openMicrophone(apis, "usb", () => {}, () => {});
  assert.deepEqual(apis.asked[0].audio.deviceId, { exact: "usb" });
});

test("every block is handed over; pulled out, it is closed and told", async () => {
  const apis = browserApis();
  const log = [];
  await openMicrophone(apis, "", (block) => log.push(block), () => log.push("lost"));
  browserApis.last.port.onmessage({ data: "block" });
  apis.track.onended();
  assert.deepEqual(log, ["block", "lost"]);
  assert.deepEqual(apis.asked.slice(2), ["stopped", "closed"]);
});

test("what the browser does all the same is said, and so is a narrow microphone", () => {
  assert.deepEqual(notices({ echoCancellation: false, noiseSuppression: false, autoGainControl: false }, 48000), []);
  const found = notices({ autoGainControl: true, noiseSuppression: true, sampleRate: 16000 }, 48000);
  assert.deepEqual(found.map((text) => /noise suppression|automatic gain control|16 kHz/.exec(text)[0]), ["noise suppression", "automatic gain control", "16 kHz"]);
});

for (const [name, says] of [
  ["NotAllowedError", /not allowed to use/], ["NotFoundError", /No microphone/], ["NotReadableError", /another program/], ["OddError", /could not be opened/],
]) {
  test(`${name} becomes a sentence`, async () => {
    await assert.rejects(openMicrophone(browserApis({ refuse: name }), "", () => {}, () => {}), (error) => error instanceof NoMicrophone && says.test(error.message));
  });
}

test("a browser that cannot record says so", async () => {
  await assert.rejects(openMicrophone({}, "", () => {}, () => {}), NoMicrophone);
  assert.deepEqual(await microphones({}), []);
});

test("whether one is there is known without leave, and when that changes", async () => {
  const found = [{ kind: "videoinput", deviceId: "" }];
  const apis = { mediaDevices: Object.assign(new EventTarget(), { enumerateDevices: async () => found }) };
  let changes = 0;
  onDeviceChange(apis, () => changes++);
  assert.equal(await isThere(apis), false);
  found.push({ kind: "audioinput", deviceId: "" });
  apis.mediaDevices.dispatchEvent(new Event("devicechange"));
  assert.deepEqual([await isThere(apis), changes], [true, 1]);
  assert.deepEqual([await microphones(apis), await isThere({})], [[], false]);
});
