// Puts a screen on the page: the focus stays where the hand is, what was open stays open, and a screen
// reader is told what changed.

import { plain } from "./dom.js";

const DEPTH = 2; // screen, its parts, and the parts of these

/**
 * @param {HTMLElement} host
 * @param {() => HTMLElement} drawn  the screen as it is now
 * @param {(before: string) => string} said  what a screen reader is to say, after what it said before
 * @param {(text: string) => (string | Node)[]} shown  how it stands on the page
 */
export function makeStage(host, drawn, said, shown) {
  const [status, screen] = [document.createElement("p"), document.createElement("div")];
  status.className = "visually-hidden";
  status.setAttribute("role", "status");
  host.replaceChildren(status, screen);

  /** @param {string} key @param {string} [other] */
  function focus(key, other = "heading") {
    const find = (/** @type {string} */ name) => host.querySelector(`[data-key="${CSS.escape(name)}"]`);
    const found = /** @type {HTMLElement | null} */ (find(key) ?? find(other) ?? find("heading"));
    found?.focus({ preventScroll: true });
  }

  return {
    /** Draw anew; the focus goes to what has this key, else stays. @param {string} [key] */
    show(key) {
      const active = /** @type {HTMLElement | null} */ (document.activeElement);
      const focused = host.contains(active) ? active?.dataset.key : undefined;
      const open = openOnes(host);
      const made = drawn();
      for (const details of made.querySelectorAll("details")) details.open = open.includes(keyOf(details));
      const scroll = keepScroll(screen);
      const now = screen.firstElementChild;
      if (!now || !renewed(now, made, DEPTH)) {
        screen.replaceChildren(made);
        host.scrollTop = 0; // with large letters it scrolls: another screen begins at its top
      }
      scroll();
      if (key) focus(key, focused);
      else if (focused) focus(focused);
      const text = said(status.textContent ?? "");
      if (status.textContent !== plain(text)) status.replaceChildren(...shown(text));
    },
  };
}

/** What it is that opens, by the key of its summary. @param {Element} details */
const keyOf = (details) => details.querySelector("summary")?.dataset.key;

/** @param {HTMLElement} host */
const openOnes = (host) => [...host.querySelectorAll("details")].filter(({ open }) => open).map(keyOf);

/**
 * Renew only what is another: a button under a finger or a key stays, and a line that runs runs on.
 * False where the two are not alike enough for that.
 * @param {Element} now @param {Element} made @param {number} depth
 */
function renewed(now, made, depth) {
  const [before, after] = [[...now.childNodes], [...made.childNodes]];
  const alike = now.cloneNode().isEqualNode(made.cloneNode()) && before.length === after.length;
  if (!alike || now.classList.contains("ready")) return false;
  for (const [i, part] of after.entries()) {
    const old = before[i];
    if (old.isEqualNode(part)) continue;
    const inside = depth > 0 && old instanceof Element && part instanceof Element && renewed(old, part, depth - 1);
    if (!inside) /** @type {ChildNode} */ (old).replaceWith(part);
  }
  return true;
}

/**
 * The text stays where it was scrolled to when the screen is drawn anew.
 * @param {HTMLElement} around  what holds the screen
 * @returns {() => void}  to be called when the new one is there
 */
function keepScroll(around) {
  const before = around.querySelector(".text-area");
  const [text, top] = [before?.textContent, before?.scrollTop ?? 0];
  return () => {
    const after = around.querySelector(".text-area");
    if (after && after.textContent === text) after.scrollTop = top;
  };
}
