// What the page says of a prompt, in words.

/** @import { Card } from "../types" */

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
  return `For ${whom}, ${current ? "practised now" : "practised later"}`;
}

/** What is recorded already, "" for nothing. @param {Card} card */
export function recordedText({ files, state }) {
  if (!files.length) return "";
  const more = files.length > 1 ? `; ${files.length} recordings, the best is used` : "";
  switch (state) {
    case "again": return `There is ${files[0]}, but it is not used${more && `; ${files.length} recordings`}`;
    case "unheard": return `There is ${files[0]}, cut from a long recording; listen to it on the proof page first`;
    default: return `Recorded: ${files[0]}, ${state}${more}`;
  }
}

/** The word for a state in the list. */
export const STATE_TEXT = /** @type {const} */ ({
  missing: "not recorded", good: "good", doubtful: "doubtful", again: "not used, record again", unheard: "cut, not heard yet",
});

/** What a verdict means. */
export const VERDICT_TEXT = /** @type {const} */ ({
  good: "Good", doubtful: "Doubtful: listen to it", again: "Record it again",
});
