// Pieces that the views share.

import { el } from "../../theme/assets/js/dom.js";

/** @type {Record<string, string>} */
const SHORTCUTS = { space: "Space", enter: "Enter", r: "R", "←": "ArrowLeft", "→": "ArrowRight" };

/**
 * @param {string} name @param {string} shortcut  the key that does the same, "" for none
 * @param {() => void} act @param {{ key: string, big?: boolean, live?: boolean, off?: boolean }} how
 */
export function button(name, shortcut, act, { key, big = false, live = false, off = false }) {
  return el(
    "button",
    { type: "button", class: `button${big && !off ? " big" : ""}${live ? " live" : ""}`, "data-key": key, "aria-disabled": off ? "true" : null, "aria-keyshortcuts": SHORTCUTS[shortcut] ?? null, onclick: () => off || act() },
    name, shortcut && el("kbd", { "aria-hidden": "true" }, shortcut),
  );
}

/** A sentence; what stands between backticks is typed at the terminal. @param {string} text */
export const sentence = (text) => text.split("`").map((part, i) => (i % 2 ? el("code", {}, part) : part));
