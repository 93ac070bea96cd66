import assert from "node:assert/strict";
import { test } from "node:test";

import { concatenated, encodeWav, withoutNothingAtEnd } from "../../site_templates/recording_page/js/wav.js";

const text = (view, at, length) => String.fromCharCode(...new Uint8Array(view.buffer, at, length));
const sample = (view, i) => view.getUint16(44 + 3 * i, true) + view.getInt8(44 + 3 * i + 2) * 65536;

test("the header is that of 24-bit PCM (RIFF specification of 1991)", () => {
  const view = new DataView(encodeWav(new Float32Array(4), 44100));
  assert.equal(view.byteLength, 44 + 12);
  assert.deepEqual([text(view, 0, 4), text(view, 8, 8), text(view, 36, 4)], ["RIFF", "WAVEfmt ", "data"]);
  assert.deepEqual([4, 16, 24, 28, 40].map((at) => view.getUint32(at, true)), [48, 16, 44100, 132300, 12]);
  assert.deepEqual([20, 22, 32, 34].map((at) => view.getUint16(at, true)), [1, 1, 3, 24]);
});

test("an odd number of bytes is filled up, but not counted as sound", () => {
  const view = new DataView(encodeWav(new Float32Array(3), 48000));
  assert.deepEqual([view.byteLength, view.getUint32(4, true), view.getUint32(40, true)], [54, 46, 9]);
});

test("samples keep sign and size; what is too loud is cut, not turned over", () => {
  const view = new DataView(encodeWav(Float32Array.of(0, 0.5, -0.5, 1, -1, 2, -2, 2 ** -22), 48000));
  const full = 2 ** 23 - 1;
  const found = Array.from({ length: 8 }, (_, i) => sample(view, i));
  assert.deepEqual(found, [0, Math.round(full / 2), Math.round(-full / 2), full, -full, full, -full, 2]);
});

test("only what is less than half a step of 16 bits is taken off, at the end", () => {
  assert.deepEqual([...withoutNothingAtEnd(Float32Array.of(0, 1, 0, -(2 ** -15), 0, -(2 ** -17), 2 ** -17, 0))], [0, 1, 0, -(2 ** -15)]);
  assert.equal(withoutNothingAtEnd(new Float32Array(3)).length, 0);
});

test("blocks come in their order", () => {
  assert.deepEqual([...concatenated([Float32Array.of(1, 2), Float32Array.of(), Float32Array.of(3)])], [1, 2, 3]);
  assert.equal(concatenated([]).length, 0);
});
