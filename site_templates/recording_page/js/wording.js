// What the page says of a prompt, in words.

import { currentCard, waits } from "./state.js";

/** @import { Card, State } from "../types" */

/** What the speaker is asked to do. @param {Card} card */
export function instruction({ form, alone, ipa, sound, holdable }) {
  if (alone && holdable) return `The sound alone: hold /${sound}/ for a second or two.`;
  if (alone) return `The sound alone, short, with no vowel after it.`;
  if (form === "long") return `Hold the /${sound}/ for a second or more; say the rest as usual.`;
  return `Say ${ipa ? `/${ipa}/` : "it"} as you normally would: unhurried, letting your voice fall at the end.`;
}

/** The kind of prompt. @param {Card} card */
export function description({ form, alone, level, sound }) {
  return `/${sound}/ · ${alone ? "sound alone" : `${level}, ${form === "long" ? "target held" : "natural"}`}`;
}

/** Whose programs need it. @param {Card} card */
export function clientsText({ clients, current }) {
  const whom = clients.length === 1 ? clients[0] : `${clients.length} clients (${clients.join(", ")})`;
  return `For ${whom}, ${current ? "practiced now" : "practiced later"}`;
}

/** What is recorded already, "" for nothing. @param {Card} card */
export function recordedText({ files, state }) {
  if (!files.length) return "";
  const more = files.length > 1 ? `; ${files.length} recordings, the best is used` : "";
  switch (state) {
    case "again": return `There is ${files[0]}, but it is not used${more && `; ${files.length} recordings`}`;
    case "doubtful": return `There is ${files[0]}, but it is doubtful: listen to it. It is not used until you have called it right${more && `; ${files.length} recordings`}`;
    case "heard": return `Recorded: ${files[0]}, doubtful, but you called it right${more}`;
    case "unheard": return `There is ${files[0]}, cut from a long recording; listen to it on the proof page first`;
    default: return `Recorded: ${files[0]}, ${state}${more}`;
  }
}

/** What to do about the microphone, "" for nothing. @param {State} state */
export function microphoneText({ microphone, microphoneProblem }) {
  switch (microphone) {
    case "gone": return "The microphone was unplugged. Plug it in again, or another one.";
    case "there": return "The microphone was unplugged. There is one now: open it to record on.";
    default: return microphoneProblem;
  }
}

/** Of a recording that the microphone did not hear to its end, "" for others. @param {State} state */
export const cutText = ({ cut }) => (cut ? "The microphone was unplugged before you pressed Stop, so the end may be missing. Listen to it." : "");

/** What came between, and what to do now, while a recording waits. @param {State} state */
export function waitingText({ phase, away, problem }) {
  if (away) return `${problem} ${phase === "assessed" ? "Then press Keep." : "Then the recording is checked."}`;
  return problem || (phase === "assessed" ? "It was not kept yet: keep it, redo it or discard it." : "It was not checked yet.");
}

/** Where a recording is safe meanwhile. @param {State} state */
export const storedText = ({ stored }) =>
  stored ? "You can close this window: the recording stays in this browser until you keep or discard it." : "Leave this window open: this browser stores nothing for later.";

/** What to do with a recording that is saved as a file. @param {string} file @param {string} folder */
export const fileText = (file, folder) => `If it opens at another address, save the recording as a file instead and put ${file} into ${folder}.`;

/** The word for a state in the list. */
export const STATE_TEXT = /** @type {const} */ ({
  missing: "not recorded", good: "good", doubtful: "doubtful, not used yet", heard: "doubtful, called right", again: "not used, record again", unheard: "cut, not heard yet",
});

/** What a verdict means. */
export const VERDICT_TEXT = /** @type {const} */ ({
  good: "Good", doubtful: "Doubtful: listen to it, and keep it only if it is right", again: "Record it again",
});

/** What is read out to those who do not see the screen, "" for nothing new. @param {State} state */
export function announcement(state) {
  const { phase, assessment, problem, notice } = state;
  const text = currentCard(state).text;
  const said = assessment ? [`${VERDICT_TEXT[assessment.verdict]}.`, cutText(state), ...assessment.reasons.map(([reason]) => reason)] : [];
  if (waits(state)) return joined("The recording is still here.", waitingText(state), microphoneText(state), ...said);
  if (problem) return problem;
  if (phase === "recording") return "Speak now";
  if (phase === "assessed") return joined(microphoneText(state), ...said);
  return phase === "idle" ? joined(notice, microphoneText(state), notice ? `Now: ${text}` : text) : "";
}

/** @param {...string} sentences */
const joined = (...sentences) => sentences.filter(Boolean).join(" ");
