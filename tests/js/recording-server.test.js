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
    return { ok: status < 400, status, json: async () => body ?? assert.fail("torn off") };
  };
  const storage = { getItem: (key) => kept[key] ?? null, setItem: (key, value) => { kept[key] = value; } };
  return { asked, storage, server: makeServer({ fetch, storage }) };
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

/** Whether it is a problem of that kind, with that sentence. */
const problem = (kind, says) => (error) => error instanceof Problem && error.why === kind && says.test(error.message);

test("what the server says is said", async () => {
  const { server } = served([422, { problem: "Too long." }], [507, { problem: "The disk is full." }], [500, undefined]);
  await assert.rejects(server.assess("cow", new ArrayBuffer(2)), problem("refused", /^Too long\.$/));
  await assert.rejects(server.keep("cow", new ArrayBuffer(2), false), problem("other", /^The disk is full\.$/));
  await assert.rejects(server.take("cow"), problem("other", /500/));
});

test("a server that is gone, breaks off or does not know the window is away", async () => {
  const { server } = served([0], [200, undefined], [401, { problem: "Open the address." }]);
  for (const says of [/start `practice-site record` again/i, /start `practice-site record` again/i, /Open the address/]) {
    await assert.rejects(server.prompts(), problem("away", says));
  }
});

test("no request waits for ever: the terminal may hold the page (Ctrl+Z)", async () => {
  const { asked, server } = served([200, {}]);
  await server.assess("cow", new ArrayBuffer(2));
  assert.ok(asked[0][1].signal instanceof AbortSignal);
});

test("a window takes over the newest secret where the folder is its own, and only there", async () => {
  const { asked, storage, server } = served([200, { session: "old" }], [200, { folder: "yours" }], [200, {}], [200, { folder: "mine" }], [200, {}]);
  await server.enter("key");
  storage.setItem("session", "new");
  await assert.rejects(server.prompts("mine"), problem("away", /saves in yours/));
  await server.keep("cow", new ArrayBuffer(2), false);
  await server.prompts("mine");
  await server.keep("cow", new ArrayBuffer(2), false);
  assert.deepEqual(asked.slice(1).map(([, how]) => how.headers["X-Recording-Session"]), ["new", "old", "new", "new"]);
});
