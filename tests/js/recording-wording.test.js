import assert from "node:assert/strict";
import { test } from "node:test";

import { description, recordedText, clientsText, instruction } from "../../site_templates/recording_page/js/wording.js";

const card = { form: "natural", alone: false, level: "word", sound: "s", holdable: true, clients: ["heron-07"], current: true, files: [], state: "missing" };

test("what to do depends on the form and on what stands alone", () => {
  assert.match(instruction(card), /as you normally would/);
  assert.match(instruction({ ...card, level: "syllable", ipa: "æs" }), /^Say \/æs\/ as you normally would/);
  assert.match(instruction({ ...card, form: "long" }), /Hold the \/s\//);
  assert.match(instruction({ ...card, alone: true, form: "long" }), /alone: hold \/s\//);
  assert.match(instruction({ ...card, alone: true, sound: "k", holdable: false }), /no vowel after it/);
});

test("what it is and whom it serves", () => {
  assert.equal(description(card), "/s/ · word, natural");
  assert.equal(description({ ...card, form: "long" }), "/s/ · word, target held");
  assert.equal(clientsText(card), "For heron-07, practised now");
  assert.equal(clientsText({ ...card, clients: ["heron-07", "otter-12"], current: false }), "For 2 clients (heron-07, otter-12), practised later");
});

test("what is there already", () => {
  assert.equal(recordedText(card), "");
  assert.equal(recordedText({ ...card, files: ["sun.wav"], state: "good" }), "Recorded: sun.wav, good");
  assert.match(recordedText({ ...card, files: ["sun-2.wav", "sun.wav"], state: "doubtful" }), /2 recordings, the best is used/);
  assert.match(recordedText({ ...card, files: ["sun.wav"], state: "again" }), /not used/);
});
