// Puts a screen on the page: the focus stays where the hand is, what was open stays open, and a screen
// reader is told what changed.

import { plain } from "./dom.js";

const DEPTH = 2; // screen, its parts, and the parts of these
const [DOUBLE_MS, DOUBLE_PX] = [300, 40]; // so soon and so near it is one double tap; common practice, no source

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
  takeWhereItBegan(host);

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

/**
 * A finger's tap counts where it came down, not on what came under it meanwhile; the second one of a
 * double tap not on what the first one brought. Without a finger a click has detail 0.
 * @param {HTMLElement} host
 */
function takeWhereItBegan(host) {
  const under = (/** @type {Event} */ { target }) => /** @type {Element} */ (target).closest("[data-key]")?.getAttribute("data-key") ?? "";
  /** @type {string | null} */
  let began = null;
  let [first, finger, left, top, timer] = ["", false, NaN, NaN, 0];
  host.addEventListener("pointerdown", (event) => {
    began = under(event);
    finger = event.pointerType === "touch";
  });
  host.addEventListener("pointercancel", () => { began = null; }); // it scrolled
  host.addEventListener("click", (event) => {
    if (!event.detail || began === null) return;
    const [key, { clientX, clientY }] = [under(event), event];
    if (!finger || !(Math.hypot(clientX - left, clientY - top) < DOUBLE_PX)) first = key;
    if (began !== key || first !== key) {
      event.stopPropagation();
      event.preventDefault();
    }
    [left, top, began] = [clientX, clientY, null];
    clearTimeout(timer);
    timer = window.setTimeout(() => { left = NaN; }, DOUBLE_MS);
  }, true);
}

/** What it is that opens, by the key of its summary. @param {Element} details */
const keyOf = (details) => details.querySelector("summary")?.dataset.key;

/** @param {HTMLElement} host */
const openOnes = (host) => [...host.querySelectorAll("details")].filter(({ open }) => open).map(keyOf);

/**
 * Renew only what is another: a button under a finger or a key stays, also where something comes or goes
 * below it, and a line that runs runs on. What looks the same must do the same. False where the two are
 * not alike enough for that.
 * @param {Element} now @param {Element} made @param {number} depth
 */
function renewed(now, made, depth) {
  const [before, after] = [[...now.childNodes], [...made.childNodes]];
  const beginAlike = before.length > 0 && after.length > 0 && before[0].isEqualNode(after[0]);
  if (before.length !== after.length && !beginAlike) return false;
  if (!now.cloneNode().isEqualNode(made.cloneNode())) return false;
  if (before.length === after.length) {
    for (const [i, part] of after.entries()) renew(before[i], part, depth);
    return true;
  }
  while (before.length > 0 && after.length > 0 && before[0].isEqualNode(after[0])) {
    before.shift();
    after.shift();
  }
  /** @type {ChildNode | null} */
  let behind = null; // the first of what both end with
  while (before.length > 0 && after.length > 0 && before[before.length - 1].isEqualNode(after[after.length - 1])) {
    behind = before.pop() ?? null;
    after.pop();
  }
  for (const part of before) part.remove();
  for (const part of after) now.insertBefore(part, behind);
  return true;
}

/** @param {ChildNode} old @param {ChildNode} part @param {number} depth */
function renew(old, part, depth) {
  if (old.isEqualNode(part)) return;
  const inside = depth > 0 && old instanceof Element && part instanceof Element && renewed(old, part, depth - 1);
  if (!inside) old.replaceWith(part);
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
