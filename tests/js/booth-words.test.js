import assert from "node:assert/strict";
import { test } from "node:test";

import { kind, recorded, serves, task } from "../../site_templates/booth/js/words.js";

const card = { form: "natural", alone: false, level: "word", sound: "s", holds: true, clients: ["heron-07"], now: true, files: [], state: "missing" };

test("what to do depends on the form and on what stands alone", () => {
  assert.match(task(card), /as in talking/);
  assert.match(task({ ...card, level: "syllable", said: "æs" }), /^Say \/æs\/ as in talking/);
  assert.match(task({ ...card, form: "long" }), /Hold the \/s\//);
  assert.match(task({ ...card, alone: true, form: "long" }), /alone: hold \/s\//);
  assert.match(task({ ...card, alone: true, sound: "k", holds: false }), /no vowel after it/);
});

test("what it is and whom it serves", () => {
  assert.equal(kind(card), "/s/ · word, natural");
  assert.equal(kind({ ...card, form: "long" }), "/s/ · word, target held");
  assert.equal(serves(card), "For heron-07, practised now");
  assert.equal(serves({ ...card, clients: ["heron-07", "otter-12"], now: false }), "For 2 clients (heron-07, otter-12), practised later");
});

test("what is there already", () => {
  assert.equal(recorded(card), "");
  assert.equal(recorded({ ...card, files: ["sun.wav"], state: "good" }), "Recorded: sun.wav, good");
  assert.match(recorded({ ...card, files: ["sun-2.wav", "sun.wav"], state: "doubtful" }), /2 recordings, the best is used/);
  assert.match(recorded({ ...card, files: ["sun.wav"], state: "again" }), /not used/);
});
