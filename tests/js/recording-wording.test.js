import assert from "node:assert/strict";
import { test } from "node:test";

import { announcement, clientsText, cutText, description, fileText, instruction, microphoneText, recordedText, storedText, waitingText } from "../../site_templates/recording_page/js/wording.js";

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
  assert.equal(clientsText(card), "For heron-07, practiced now");
  assert.equal(clientsText({ ...card, clients: ["heron-07", "otter-12"], current: false }), "For 2 clients (heron-07, otter-12), practiced later");
});

test("what is there already", () => {
  assert.equal(recordedText(card), "");
  assert.equal(recordedText({ ...card, files: ["sun.wav"], state: "good" }), "Recorded: sun.wav, good");
  assert.match(recordedText({ ...card, files: ["sun-2.wav", "sun.wav"], state: "heard" }), /you called it right; 2 recordings, the best is used/);
  assert.match(recordedText({ ...card, files: ["sun.wav"], state: "doubtful" }), /not used until you have called it right/);
  assert.match(recordedText({ ...card, files: ["sun.wav"], state: "again" }), /not used/);
});

const waiting = {
  cards: [{ ...card, text: "sun" }], folder: "takes", at: 0, phase: "assessed", microphone: "open", microphoneProblem: "", held: true, stored: true,
  away: false, problem: "", notice: "", cut: false, assessment: { verdict: "good", reasons: [["It is noisy.", "35 dB"]], seconds: 1 },
};

test("a recording that waits says what came between and what to do", () => {
  assert.equal(waitingText({ ...waiting, away: true, problem: "Start it again." }), "Start it again. Then press Keep.");
  assert.equal(waitingText({ ...waiting, phase: "recorded", away: true, problem: "Start it again." }), "Start it again. Then the recording is checked.");
  assert.equal(waitingText({ ...waiting, problem: "The disk is full." }), "The disk is full.");
  assert.match(waitingText(waiting), /keep it, redo it or discard it/);
  assert.match(storedText(waiting), /can close this window/);
  assert.match(storedText({ ...waiting, stored: false }), /Leave this window open/);
  assert.match(fileText("cow.wav", "programs/takes"), /cow\.wav into programs\/takes/);
});

test("a microphone that is gone says so, and asks for another", () => {
  const says = (microphone, microphoneProblem = "") => microphoneText({ ...waiting, microphone, microphoneProblem });
  assert.match(says("gone"), /unplugged\. Plug it in again, or another one/);
  assert.match(says("there"), /open it/);
  assert.deepEqual([says("open"), says("closed"), says("closed", "Not allowed.")], ["", "", "Not allowed."]);
  assert.match(cutText({ ...waiting, cut: true }), /end may be missing/);
  assert.equal(cutText(waiting), "");
});

test("what is read out", () => {
  const fresh = { ...waiting, held: false };
  assert.equal(announcement({ ...waiting, away: true, problem: "Start it again." }), "The recording is still here. Start it again. Then press Keep. Good. It is noisy.");
  assert.equal(announcement(fresh), "Good. It is noisy.");
  assert.match(announcement({ ...fresh, microphone: "gone" }), /^The microphone was unplugged.* Good\. It is noisy\.$/);
  const idle = { ...fresh, phase: "idle", assessment: null };
  assert.equal(announcement(idle), "sun");
  assert.equal(announcement({ ...idle, notice: "Kept." }), "Kept. Now: sun");
  assert.equal(announcement({ ...idle, problem: "No." }), "No.");
  assert.deepEqual(["recording", "saving"].map((phase) => announcement({ ...fresh, phase })), ["Speak now", ""]);
});
