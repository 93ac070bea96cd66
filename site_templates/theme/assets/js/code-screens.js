// The codes, one at a time over the whole screen, for the clinic's camera. The screen stays on.

import { makeScreenLock } from "./awake.js";
import { button, el } from "./dom.js";

/** @import { Tell } from "./visit-report.js" */
/** @typedef {(text: string, label: string) => Node} Draw */

/**
 * @param {object} given
 * @param {string[]} given.recent  what the codes of the last days hold
 * @param {string[] | null} given.all  of everything; null where that is too much for codes, or no more
 * @param {Draw} given.draw
 * @param {Tell} given.tell
 * @param {() => void} given.seen  the last code was reached
 */
export function codeScreens({ recent, all, draw, tell, seen }) {
  const light = makeScreenLock(navigator, document);
  let [texts, at] = [recent, 0];
  const status = el("p", { role: "status", class: "code-place" });
  const how = el("p", { class: "quiet" });
  const area = el("div", { class: "code-area" });
  const back = button("code-back", tell("code.back"), () => show(at - 1));
  const next = button("code-next", tell("code.next"), () => (at + 1 < texts.length ? show(at + 1) : dialog.close()), "big");
  const more = all && button("code-all", tell("code.all"), () => {
    texts = texts === recent ? all : recent;
    more?.replaceChildren(tell(texts === recent ? "code.all" : "code.recent"));
    show(0);
  });
  const close = button("code-close", tell("code.close"), () => dialog.close());
  const dialog = /** @type {HTMLDialogElement} */ (el("dialog", { class: "codes", "aria-label": tell("code.title") },
    area, el("div", { class: "code-side" }, status, how, el("div", { class: "choices" }, next, back, more, close))));
  dialog.addEventListener("close", () => void light.release());

  /** @param {number} place */
  function show(place) {
    at = place;
    const label = tell("code.of", { at: at + 1, all: texts.length });
    area.replaceChildren(draw(texts[at], label));
    status.textContent = label;
    how.textContent = [more && `${tell(texts === recent ? "code.recent" : "code.all")}.`, tell("code.how")].filter(Boolean).join(" ");
    back.toggleAttribute("disabled", at === 0);
    const last = at + 1 === texts.length;
    next.replaceChildren(tell(last ? "code.done" : "code.next"));
    if (last) seen();
  }

  return {
    dialog,
    open() {
      show(0);
      dialog.showModal();
      next.focus();
      void light.hold();
    },
  };
}
