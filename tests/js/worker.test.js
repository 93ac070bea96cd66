// The worker in a room of its own: a cache over a Map, a host over a Map. Ranges as RFC 9110, section 14,
// has them.
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import vm from "node:vm";

const SOURCE = await readFile(new URL("../../site_templates/worker/sw.js", import.meta.url), "utf8");
const BASE = "https://host.example/aaaaaaaaaaaaa/";
const CLIP = "0123456789";
const digest = (text) => createHash("sha256").update(text).digest("hex").slice(0, 16);

/** A worker for these files on a tablet that keeps `kept`; `host` is what the network has. */
function worker(files, { kept = new Map(), host = files, clock = { now: 0 } } = {}) {
  const heard = {};
  const asked = [];
  const cache = {
    match: async (url) => kept.get(url)?.clone(),
    put: async (url, answer) => void kept.set(url, answer),
    keys: async () => [...kept.keys()].map((url) => ({ url })),
    delete: async ({ url }) => kept.delete(url),
  };
  const room = {
    self: {
      registration: { scope: BASE },
      addEventListener: (name, does) => { heard[name] = does; },
      skipWaiting: async () => void asked.push("skipWaiting"),
      clients: { claim: async () => void asked.push("claim") },
    },
    caches: { open: async (name) => (assert.equal(name, "practice-aaaaaaaaaaaaa"), cache) },
    fetch: async (request) => {
      const address = typeof request === "string" ? request : request.url;
      asked.push(address);
      const path = address.replace(BASE, "").replace(/[?#].*$/, "");
      const found = host[path === "" || path.endsWith("/") ? `${path}index.html` : path];
      if (found === undefined) throw new TypeError("no network");
      return new Response(found, { headers: { "Content-Type": "text/plain" } });
    },
    setTimeout: (work, ms) => { clock.now += ms; work(); },
    Date: { now: () => clock.now },
    crypto: globalThis.crypto, Response: class extends Response {
      static redirect(to) { return Object.assign(new Response(null, { status: 302 }), { to }); }
    }, Headers, URL, Map, Set, Object, Promise, Uint8Array,
  };
  const listed = JSON.stringify(Object.fromEntries(Object.entries(files).map(([path, text]) => [path, digest(text)])));
  vm.runInNewContext(SOURCE
    .replace('const SITE = ""', 'const SITE = "aaaaaaaaaaaaa"')
    .replace("new Map();", `new Map(Object.entries(${listed}));`), room);
  const waited = async (name) => {
    let work = Promise.resolve();
    heard[name]({ waitUntil: (promise) => { work = promise; } });
    await work;
  };
  return {
    kept, asked,
    install: () => waited("install"),
    activate: () => waited("activate"),
    say: (data) => heard.message({ data }),
    /** undefined where the worker leaves it to the browser. */
    ask: async (path, { headers = {}, mode = "cors", method = "GET" } = {}) => {
      let answer;
      const url = path.startsWith("https:") ? path : BASE + path;
      heard.fetch({ request: { url, method, mode, headers: new Headers(headers) }, respondWith: (given) => { answer = given; } });
      return answer;
    },
  };
}

const FILES = { "index.html": "today", "visit/index.html": "visit", "clips/cow.mp3": CLIP };
const installed = async (files = FILES, more = {}) => {
  const one = worker(files, more);
  await one.install();
  await one.activate();
  one.asked.length = 0;
  return one;
};
const text = async (answer) => (await answer)?.text();

test("a page, a folder, a query: all from the device, with the network cut", async () => {
  const host = { ...FILES };
  const one = await installed(FILES, { host });
  for (const path of Object.keys(host)) delete host[path];
  assert.equal(await text(one.ask("")), "today");
  assert.equal(await text(one.ask("?x=1#y")), "today");
  assert.equal(await text(one.ask("visit/", { mode: "navigate" })), "visit");
  assert.equal(await text(one.ask("clips/cow.mp3")), CLIP);
  assert.deepEqual(one.asked, []);
});

test("what is not of this site, or no question for a file, is the browser's", async () => {
  const one = await installed();
  assert.equal(await one.ask("https://host.example/other/"), undefined);
  assert.equal(await one.ask("https://elsewhere.example/aaaaaaaaaaaaa/"), undefined);
  assert.equal(await one.ask("practice.json"), undefined);
  assert.equal(await one.ask("", { method: "POST" }), undefined);
  assert.equal(await one.ask("toString"), undefined);
});

test("a page without its slash is led to it; one that is not there, without a network, to today's", async () => {
  const one = await installed();
  assert.equal((await one.ask("visit", { mode: "navigate" })).to, `${BASE}visit/`);
  assert.equal((await one.ask("k-old-step/", { mode: "navigate" })).to, BASE);
  assert.equal((await one.ask("%", { mode: "navigate" })).to, BASE);
});

// RFC 9110: 14.1.2 (forms of a range), 14.2 (a server ignores what it does not know), 15.5.17 (416).
const ranges = [
  ["bytes=0-1", 206, "01", "bytes 0-1/10"],
  ["bytes=0-", 206, CLIP, "bytes 0-9/10"],
  ["bytes=4-5", 206, "45", "bytes 4-5/10"],
  ["bytes=8-99", 206, "89", "bytes 8-9/10"],
  ["bytes=-3", 206, "789", "bytes 7-9/10"],
  ["bytes=-99", 206, CLIP, "bytes 0-9/10"],
  ["Bytes=9-", 206, "9", "bytes 9-9/10"],
  ["bytes=10-", 416, "", "bytes */10"],
  ["bytes=-0", 416, "", "bytes */10"],
  ["bytes=5-4", 200, CLIP, null],
  ["bytes=0-1,4-5", 200, CLIP, null],
  ["bytes=-", 200, CLIP, null],
  ["lines=0-1", 200, CLIP, null],
];
for (const [range, status, body, said] of ranges) {
  test(`Range: ${range}`, async () => {
    const answer = await (await installed()).ask("clips/cow.mp3", { headers: { Range: range } });
    assert.deepEqual([answer.status, await answer.text(), answer.headers.get("Content-Range")], [status, body, said]);
    assert.equal(answer.headers.get("Content-Length"), String(body.length));
    assert.equal(answer.headers.get("Content-Type"), "text/plain");
  });
}

test("a range of another version is the whole (RFC 9110, 13.1.5); HEAD has no range and no body", async () => {
  const one = await installed();
  const ETag = (await one.ask("clips/cow.mp3")).headers.get("ETag");
  const status = async (condition) => (await one.ask("clips/cow.mp3", { headers: { Range: "bytes=0-1", "If-Range": condition } })).status;
  assert.deepEqual([await status(ETag), await status('"older"')], [206, 200]);
  const head = await one.ask("clips/cow.mp3", { method: "HEAD", headers: { Range: "bytes=0-1" } });
  assert.deepEqual([head.status, await head.text(), head.headers.get("Content-Length")], [200, "", "10"]);
});

test("an update fetches what changed, by the address that pages use, and lets go of the rest", async () => {
  const first = await installed();
  const before = first.kept.size;
  const next = worker({ ...FILES, "visit/index.html": "new" }, { kept: first.kept });
  await next.install();
  assert.deepEqual(next.asked, [`${BASE}visit/`]);
  assert.equal(first.kept.size, before + 1);
  assert.equal(await text(first.ask("visit/")), "visit", "the old one goes on whole");
  await next.activate();
  assert.equal(first.kept.size, before);
  assert.equal(await text(next.ask("visit/")), "new");
});

test("another version on the way, or a missing file, and nothing is installed; what was verified stays", async () => {
  for (const host of [{ ...FILES, "clips/cow.mp3": "stale" }, { "index.html": "today", "visit/index.html": "visit" }]) {
    const one = worker(FILES, { host });
    await assert.rejects(one.install());
    assert.ok(![...one.kept.keys()].some((url) => url.includes("cow")));
  }
});

test("what another path of the host keeps under the same name is left alone", async () => {
  const kept = new Map([["https://host.example/copy/aaaaaaaaaaaaa/?h=0", new Response("x")]]);
  await installed(FILES, { kept });
  assert.ok(kept.has("https://host.example/copy/aaaaaaaaaaaaa/?h=0"));
});

test("what the browser let go comes from the network", async () => {
  const one = await installed();
  one.kept.clear();
  assert.equal(await text(one.ask("clips/cow.mp3", { headers: { Range: "bytes=0-1" } })), CLIP);
  assert.equal(one.asked.length, 1);
});

test("it takes over only when told, and stands back while practice waits for clips", async () => {
  const clock = { now: 0 };
  const one = worker(FILES, { clock });
  one.say("use-later");
  assert.deepEqual(one.asked, []);
  one.say("use-now");
  assert.deepEqual(one.asked, ["skipWaiting"]);
  one.say("stand-back");
  await one.install();
  assert.ok(clock.now >= 10_000);
});
