import assert from "node:assert/strict";
import { test } from "node:test";

import { NoMicrophone, microphones, notices, openMicrophone } from "../../site_templates/booth/js/microphone.js";
import { Problem, makeServer } from "../../site_templates/booth/js/server.js";

/** Doors of a microphone that write down what is asked. */
function doors({ settings = {}, refuse = "" } = {}) {
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
  class AudioWorkletNode { port = { onmessage: null }; connect = (next) => next; constructor() { doors.last = this; } }
  const getUserMedia = async (how) => {
    asked.push(how);
    if (refuse) throw Object.assign(new Error(), { name: refuse });
    return { getAudioTracks: () => [track], getTracks: () => [track] };
  };
  return { asked, track, AudioContext, AudioWorkletNode, mediaDevices: { getUserMedia } };
}

test("the microphone is asked to do nothing to the sound", async () => {
  const door = doors();
  await openMicrophone(door, "", () => {}, () => {});
  assert.deepEqual(door.asked[0], {
    audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false, channelCount: 1 },
  });
});

test("a chosen microphone is that one and no other", async () => {
  const door = doors();
  await openMicrophone(door, "usb", () => {}, () => {});
  assert.deepEqual(door.asked[0].audio.deviceId, { exact: "usb" });
});

test("every block is handed over; pulled out, it is closed and told", async () => {
  const door = doors();
  const log = [];
  await openMicrophone(door, "", (block) => log.push(block), () => log.push("lost"));
  doors.last.port.onmessage({ data: "block" });
  door.track.onended();
  assert.deepEqual(log, ["block", "lost"]);
  assert.deepEqual(door.asked.slice(2), ["stopped", "closed"]);
});

test("what the browser does all the same is said, and so is a narrow microphone", () => {
  assert.deepEqual(notices({ echoCancellation: false, noiseSuppression: false, autoGainControl: false }, 48000), []);
  const found = notices({ autoGainControl: true, noiseSuppression: true, sampleRate: 16000 }, 48000);
  assert.deepEqual(found.map((text) => /noise suppression|automatic level|16 kHz/.exec(text)[0]), ["noise suppression", "automatic level", "16 kHz"]);
});

for (const [name, says] of [
  ["NotAllowedError", /may not use/], ["NotFoundError", /No microphone/], ["NotReadableError", /another program/], ["OddError", /could not be opened/],
]) {
  test(`${name} becomes a sentence`, async () => {
    await assert.rejects(openMicrophone(doors({ refuse: name }), "", () => {}, () => {}), (error) => error instanceof NoMicrophone && says.test(error.message));
  });
}

test("a browser that cannot record says so", async () => {
  await assert.rejects(openMicrophone({}, "", () => {}, () => {}), NoMicrophone);
  assert.deepEqual(await microphones({}), []);
});

/** A server that answers as told. */
function served(...answers) {
  const asked = [];
  const kept = {};
  const fetch = async (path, how) => {
    asked.push([path, how]);
    const [status, body] = answers.shift() ?? [0];
    if (!status) throw new TypeError("failed");
    return { ok: status < 400, status, json: async () => body };
  };
  const storage = { getItem: (key) => kept[key] ?? null, setItem: (key, value) => { kept[key] = value; } };
  return { asked, server: makeServer({ fetch, storage }) };
}

test("the key is exchanged for the secret, which goes into a header", async () => {
  const { asked, server } = served([200, { session: "secret" }], [200, { cards: [] }]);
  await server.enter("key");
  await server.prompts();
  assert.equal(asked[0][1].body, "key");
  assert.equal(asked[1][1].headers["X-Booth-Session"], "secret");
});

test("keeping instead has an address of its own", async () => {
  const { asked, server } = served([200, {}], [200, {}]);
  await server.keep("cow", new ArrayBuffer(2), false);
  await server.keep("cow", new ArrayBuffer(2), true);
  assert.deepEqual(asked.map(([path, how]) => [path, how.method, how.headers["Content-Type"]]), [["/keep/cow", "POST", "audio/wav"], ["/replace/cow", "POST", "audio/wav"]]);
});

test("what the server says is said; a server that is gone too", async () => {
  const { server } = served([422, { problem: "Too long." }], [0]);
  await assert.rejects(server.judge("cow", new ArrayBuffer(2)), (error) => error instanceof Problem && error.message === "Too long.");
  await assert.rejects(server.prompts(), /ended at the terminal/);
});
