// Keeps one client's whole site on the tablet, so that all of it works without a network. Nothing is
// kept that was not verified; a newer version waits until a page says that no practice is under way.
"use strict";

const SITE = ""; // the site's slug
const FILES = new Map(); // path -> the first 16 hex digits of the file's SHA-256

const BASE = self.registration.scope;
const STORE = `practice-${SITE}`; // several sites share a host, and so all of its storage
const AT_ONCE = 4;
const STAND_BACK_MS = 10_000; // so long practice, which waits for clips, goes first

let freeAt = 0;

/** Under which a file is kept: another content is another key. @param {string} path */
const keyOf = (path) => `${BASE}${encodeURI(path)}?h=${FILES.get(path)}`;

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("fetch", (event) => {
  const answer = answerTo(event.request);
  if (answer) event.respondWith(answer);
});
self.addEventListener("message", ({ data }) => {
  if (data === "use-now") void self.skipWaiting();
  if (data === "stand-back") freeAt = Date.now() + STAND_BACK_MS;
});

/** Everything is there and verified, or the version before stays. */
async function install() {
  const cache = await caches.open(STORE);
  const left = [...FILES.keys()];
  await Promise.all(Array.from({ length: AT_ONCE }, async () => {
    for (let path = left.shift(); path !== undefined; path = left.shift()) await take(cache, path);
  }));
}

/** @param {Cache} cache @param {string} path */
async function take(cache, path) {
  if (await cache.match(keyOf(path))) return; // the version before had it, too
  const wait = freeAt - Date.now();
  if (wait > 0) await new Promise((resolve) => setTimeout(resolve, wait));
  // By the address that pages use: some hosts redirect any other.
  const address = BASE + encodeURI(path.replace(/(^|\/)index\.html$/, "$1"));
  const got = await fetch(address, { cache: "no-cache", priority: "low" });
  if (!got.ok) throw new Error(`${path}: ${got.status}`);
  const body = await got.arrayBuffer();
  if ((await digestOf(body)) !== FILES.get(path)) throw new Error(`${path}: another version`);
  await cache.put(keyOf(path), new Response(body, {
    headers: {
      "Content-Type": got.headers.get("Content-Type") ?? "application/octet-stream",
      "Content-Length": String(body.byteLength),
      "Accept-Ranges": "bytes",
      ETag: `"${FILES.get(path)}"`,
    },
  }));
}

/** @param {ArrayBuffer} body */
async function digestOf(body) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
  return Array.from(digest.subarray(0, 8), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** What this version does not hold goes. A page that is open is served at once. */
async function activate() {
  const cache = await caches.open(STORE);
  const wanted = new Set(Array.from(FILES.keys(), keyOf));
  const old = (await cache.keys()).filter(({ url }) => url.startsWith(BASE) && !wanted.has(url));
  await Promise.all(old.map((request) => cache.delete(request)));
  await self.clients.claim();
}

/** null for what the browser asks the network. @param {Request} request */
function answerTo(request) {
  const address = request.url.replace(/[?#].*$/s, "");
  if (!["GET", "HEAD"].includes(request.method) || !address.startsWith(BASE)) return null;
  const path = decoded(address.slice(BASE.length));
  const file = path === "" || path.endsWith("/") ? `${path}index.html` : path;
  if (FILES.has(file)) return kept(request, file);
  if (request.mode !== "navigate") return null;
  if (FILES.has(`${path}/index.html`)) return Response.redirect(`${address}/`);
  return fetch(request).catch(() => Response.redirect(BASE)); // an old code, with no network
}

/** @param {string} path */
function decoded(path) {
  try {
    return decodeURIComponent(path);
  } catch {
    return path; // a stray percent sign
  }
}

/** @param {Request} request @param {string} path */
async function kept(request, path) {
  const found = await caches.open(STORE).then((cache) => cache.match(keyOf(path))).catch(() => undefined);
  if (!found) return fetch(request); // the browser let it go
  if (request.method === "HEAD") return new Response(null, { headers: found.headers });
  const asked = request.headers.get("Range");
  const condition = request.headers.get("If-Range"); // RFC 9110, 13.1.5
  if (!asked || (condition && condition !== found.headers.get("ETag"))) return found;
  return partOf(await found.arrayBuffer(), asked, found.headers);
}

/**
 * One range of bytes as RFC 9110, section 14, has it; of several, or in another unit, the whole.
 * @param {ArrayBuffer} body @param {string} asked @param {Headers} headers
 */
function partOf(body, asked, headers) {
  const all = body.byteLength;
  const [, from, to] = /^bytes=(\d*)-(\d*)$/i.exec(asked.trim()) ?? [null, "", ""];
  if ((!from && !to) || (from && to && Number(from) > Number(to))) return new Response(body, { headers });
  const first = from ? Number(from) : Math.max(0, all - Number(to));
  const last = from && to ? Math.min(Number(to), all - 1) : all - 1;
  const own = new Headers(headers);
  if (first >= all) {
    own.set("Content-Range", `bytes */${all}`);
    own.set("Content-Length", "0");
    return new Response(null, { status: 416, statusText: "Range Not Satisfiable", headers: own });
  }
  own.set("Content-Range", `bytes ${first}-${last}/${all}`);
  own.set("Content-Length", String(last + 1 - first));
  return new Response(body.slice(first, last + 1), { status: 206, statusText: "Partial Content", headers: own });
}
