// What the page says of a prompt, in words.

/** @import { Card } from "../types" */

/** What is to be done. @param {Card} card */
export function task({ form, alone, said, sound, holds }) {
  if (alone && holds) return `The sound alone: hold /${sound}/ for a second or two.`;
  if (alone) return `The sound alone, short, with no vowel after it.`;
  if (form === "long") return `Hold the /${sound}/ for a second or more; say the rest as in talking.`;
  return `Say ${said ? `/${said}/` : "it"} as in talking: unhurried, the voice falls at the end.`;
}

/** What it is. @param {Card} card */
export function kind({ form, alone, level, sound }) {
  const what = alone ? "sound alone" : level;
  const said = form === "long" ? `target held` : "natural";
  return `/${sound}/ · ${alone ? what : `${what}, ${said}`}`;
}

/** @param {Card} card */
export function serves({ clients, now }) {
  const whom = clients.length === 1 ? clients[0] : `${clients.length} clients (${clients.join(", ")})`;
  return `For ${whom}, ${now ? "practised now" : "practised later"}`;
}

/** What is there of it, "" for nothing. @param {Card} card */
export function recorded({ files, state }) {
  if (!files.length) return "";
  const more = files.length > 1 ? `; ${files.length} recordings, the best is used` : "";
  switch (state) {
    case "again": return `There is ${files[0]}, but it is not used${more && `; ${files.length} recordings`}`;
    case "unheard": return `There is ${files[0]}, cut from a long recording; hear it on the proof page first`;
    default: return `Recorded: ${files[0]}, ${state}${more}`;
  }
}

/** The word for a state in the list. */
export const STATES = /** @type {const} */ ({
  missing: "not recorded", good: "good", doubtful: "doubtful", again: "not used, record again", unheard: "cut, not heard yet",
});

/** What a verdict means. */
export const VERDICTS = /** @type {const} */ ({
  good: "Good", doubtful: "Doubtful: listen to it", again: "Record it again",
});
