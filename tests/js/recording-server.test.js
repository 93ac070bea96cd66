import assert from "node:assert/strict";
import { test } from "node:test";

import { Problem, makeServer } from "../../site_templates/recording_page/js/server.js";

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
  assert.equal(asked[1][1].headers["X-Recording-Session"], "secret");
});

test("keeping instead has an address of its own", async () => {
  const { asked, server } = served([200, {}], [200, {}]);
  await server.keep("cow", new ArrayBuffer(2), false);
  await server.keep("cow", new ArrayBuffer(2), true);
  assert.deepEqual(asked.map(([path, how]) => [path, how.method, how.headers["Content-Type"]]), [["/keep/cow", "POST", "audio/wav"], ["/replace/cow", "POST", "audio/wav"]]);
});

test("what the server says is said; a server that is gone too", async () => {
  const { server } = served([422, { problem: "Too long." }], [0]);
  await assert.rejects(server.assess("cow", new ArrayBuffer(2)), (error) => error instanceof Problem && error.message === "Too long.");
  await assert.rejects(server.prompts(), /closed at the terminal/);
});
