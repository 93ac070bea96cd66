// A recording that was not kept yet: which prompt it belongs to, and what its file is called.

/** @import { Card, Recording } from "../types" */

/** Where the prompt of a card is now: another start of the page may have others. -1 for nowhere. @param {Card[]} cards @param {Card} card */
export function cardIndex(cards, card) {
  /** @param {Card} each */
  const said = ({ stem, text, form, level, ipa, sound, alone }) => JSON.stringify([stem, text, form, level, ipa, sound, alone]);
  return cards.findIndex((each) => said(each) === said(card));
}

/** Recordings that wait, the newest first: those of these prompts and folder, and all others. @param {Recording[]} recordings @param {Card[]} cards @param {string} folder */
export function sorted(recordings, cards, folder) {
  const all = [...recordings].sort((a, b) => b.made - a.made);
  /** @param {Recording} one */
  const belongs = (one) => one.folder === folder && cardIndex(cards, one.card) >= 0;
  return { here: all.filter(belongs), elsewhere: all.filter((one) => !belongs(one)) };
}

/** The name of a file that the tool finds in the folder, and that no other has: `cow.wav`, `cow-2.wav`. @param {Card} card @param {Card[]} cards */
export function fileName({ stem }, cards) {
  const others = cards.map((each) => each.stem).filter((each) => each !== stem);
  const files = cards.flatMap((each) => each.files).map((file) => file.replace(/\.[^.]*$/, "").toLowerCase());
  const taken = new Set([...others, ...files]);
  let name = stem;
  for (let number = 2; taken.has(name); number++) name = `${stem}-${number}`;
  return `${name}.wav`;
}
