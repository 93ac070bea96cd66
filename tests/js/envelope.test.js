import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { crc32 as zlibs } from "node:zlib";

import { base32, codeTexts, crc32, lines, MOST_CODES, parts } from "../../site_templates/theme/assets/js/envelope.js";
import { pack } from "../../site_templates/theme/assets/js/pack.js";
import { squeeze } from "../../site_templates/theme/assets/js/squeeze.js";

const example = JSON.parse(await readFile(new URL("./sitting.json", import.meta.url), "utf8"));
const bytes = (text) => new TextEncoder().encode(text);
const noise = Uint8Array.from({ length: 6000 }, (_, n) => (n * n * 31 + n * 7) % 251);

// RFC 4648, section 10, without padding.
for (const [text, coded] of [["", ""], ["f", "MY"], ["fo", "MZXQ"], ["foo", "MZXW6"], ["foob", "MZXW6YQ"], ["fooba", "MZXW6YTB"], ["foobar", "MZXW6YTBOI"]]) {
  test(`base32 of "${text}"`, () => assert.equal(base32(bytes(text)), coded));
}

test("the checksum is zlib's", () => {
  for (const data of [bytes(""), bytes("123456789"), noise]) assert.equal(crc32(data), zlibs(data));
});

test("no line of a message is longer than mail programs leave alone", () => {
  const all = lines(noise);
  assert.ok(all.length > 100);
  assert.ok(all.every((line) => line.length <= 60));
  assert.equal(all.join(""), parts(noise)[0]);
});

test("what codes hold is alphanumeric and fits version 15 at level L", () => {
  const all = codeTexts(noise.subarray(0, 5000));
  assert.equal(all.length, 11);
  for (const text of all) assert.match(text, /^[0-9A-Z $%*+\-./:]{1,758}$/); // ISO/IEC 18004: the mode's characters, table 7
  assert.deepEqual(all.map((text) => text.split("/").slice(2, 4).join(" of ")), all.map((_, n) => `${n + 1} of 11`));
  assert.equal(new Set(all.map((text) => text.split("/")[1])).size, 1);
  assert.ok(Math.abs(all[0].length - all.at(-1).length) < 20, "of about one size");
});

test("more codes than anybody photographs are none", () => {
  assert.equal(codeTexts(noise), null);
  assert.ok(MOST_CODES < parts(noise, 728).length);
});

test("the same sittings give the same bytes", async () => {
  assert.deepEqual(await squeeze(pack([example])), await squeeze(pack([structuredClone(example)])));
});

test("without a way to deflate, a message goes as it was packed", async () => {
  const sittings = Array.from({ length: 20 }, (_, n) => ({ ...example, id: String(n).padStart(32, "0") }));
  const packed = pack(sittings);
  const small = await squeeze(packed);
  const kept = globalThis.CompressionStream;
  globalThis.CompressionStream = undefined;
  const plain = await squeeze(packed);
  globalThis.CompressionStream = kept;
  assert.deepEqual(plain, Uint8Array.of(0, ...packed.bytes));
  assert.equal(small[0], 1);
  assert.ok(small.length < plain.length);
});

test("a sitting of before tallies is packed as if it had none", () => {
  const { practice, tallies, began, done, end, ...old } = example;
  const full = { ...old, practice: "", tallies: [], began: 0, done: 0, end: "" };
  assert.deepEqual(pack([old]), pack([full]));
});

const broken = [
  ["a mark of another kind", { trials: [{ ...example.trials[0], mark: "good" }] }],
  ["a trial without an item", { trials: [{ ...example.trials[0], item: undefined }] }],
  ["half a millisecond", { trials: [{ ...example.trials[0], ms: 0.5 }] }],
  ["no id", { id: "1" }],
  ["no such moment", { start: "yesterday" }],
  ["trials that are none", { trials: "many" }],
  ["a tally below none", { tallies: [{ ...example.tallies[0], slipped: -1 }] }],
];
for (const [name, part] of broken) {
  test(`a damaged sitting is left out and said to be: ${name}`, () => {
    const { left, bytes: made } = pack([{ ...example, ...part }, example]);
    assert.equal(left, 1);
    assert.deepEqual(made, pack([example]).bytes);
  });
}
