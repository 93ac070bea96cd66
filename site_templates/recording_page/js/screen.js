// The parts of the screen: drawn anew as a whole, with the focus and the scrolling as they were.

import { el } from "../../theme/assets/js/dom.js";
import { makeMeter } from "./meter.js";
import { leftoverView } from "./waiting-view.js";
import { promptList, promptView } from "./views.js";
import { announcement } from "./wording.js";

/** @import { Recording, State } from "../types" */
/** @import { Actions } from "./views.js" */
/** @import { LeftoverActions } from "./waiting-view.js" */

/** @param {Actions} actions @param {LeftoverActions} leftoverActions @param {() => number} clock  ms */
export function makeScreen(actions, leftoverActions, clock) {
  const prompt = el("section", { class: "card prompt", "aria-label": "Prompt" });
  const leftover = el("section", { class: "card leftover", "aria-label": "Not kept earlier", hidden: true });
  const list = el("nav", { class: "card prompt-list", "aria-label": "All prompts" });
  const status = el("p", { class: "visually-hidden", role: "status" });
  const keys = /** @type {HTMLInputElement} */ (el("input", { type: "checkbox", checked: true }));
  const devices = el("label", { hidden: true });
  const meter = makeMeter(clock);
  const go = (/** @type {number} */ index) => (actions.go(index), focus(prompt, "word", false));
  meter.show(null);

  return {
    meter,
    /** Whether keys do what the buttons say. */
    get keysOn() {
      return keys.checked;
    },
    /** Everything, in its order. @param {Element | null} advice */
    nodes(advice) {
      const settings = el("div", { class: "settings" }, el("label", {}, keys, "Use the keys shown on the buttons"), devices);
      return [el("div", {}, prompt, leftover, settings, advice), list, status];
    },
    /** @param {State} state @param {string[]} notices  of the microphone */
    draw(state, notices) {
      const focused = focusedKey(prompt);
      const waited = prompt.querySelector(".waiting");
      prompt.replaceChildren(...promptView(state, meter.node, actions, notices));
      if (focused !== undefined) focus(prompt, focused, true);
      if (!waited) prompt.querySelector(".waiting")?.scrollIntoView({ block: "nearest" });
    },
    /** @param {State} state */
    drawList(state) {
      const scrolled = list.querySelector("ol")?.scrollTop ?? 0;
      list.replaceChildren(...promptList(state, go));
      scrollTo(list, scrolled);
    },
    /** @param {Recording[]} recordings @param {State} state */
    drawLeftover(recordings, state) {
      leftover.replaceChildren(...leftoverView(recordings, state, leftoverActions));
      leftover.hidden = !recordings.length;
    },
    /** @param {{ id: string, label: string }[]} found @param {string} chosen @param {(device: string) => void} choose */
    drawDevices(found, chosen, choose) {
      const options = found.map(({ id, label }, i) => el("option", { value: id, selected: id === chosen }, label || `Microphone ${i + 1}`));
      const select = /** @type {HTMLSelectElement} */ (el("select", { onchange: () => choose(select.value) }, ...options));
      devices.replaceChildren("Microphone", select);
      devices.hidden = found.length < 2;
    },
    /** For those who do not see the screen. @param {State} state */
    announce(state) {
      status.textContent = announcement(state) || status.textContent;
    },
  };
}

/** The place as it was, and the current prompt in sight. @param {HTMLElement} nav @param {number} scrolled */
function scrollTo(nav, scrolled) {
  const list = nav.querySelector("ol");
  const current = /** @type {HTMLElement | null} */ (nav.querySelector("[aria-current]"));
  if (!list || !current) return;
  list.scrollTop = scrolled;
  const [top, bottom] = [current.offsetTop, current.offsetTop + current.offsetHeight];
  if (top < scrolled || bottom > scrolled + list.clientHeight) list.scrollTop = top - list.clientHeight / 3;
}

/** The name of what has the focus inside the prompt; "word" where it is on nothing. @param {HTMLElement} prompt */
function focusedKey(prompt) {
  const active = /** @type {HTMLElement | null} */ (document.activeElement);
  if (!active || active === document.body) return "word";
  return prompt.contains(active) ? active.dataset.key ?? "word" : undefined;
}

/** @param {HTMLElement} prompt @param {string} key @param {boolean} still  without scrolling to it */
function focus(prompt, key, still) {
  const find = (/** @type {string} */ name) => /** @type {HTMLElement | null} */ (prompt.querySelector(`[data-key="${CSS.escape(name)}"]`));
  const found = find(key) ?? find("word");
  found?.focus({ preventScroll: true });
  if (!still) found?.scrollIntoView({ block: "nearest" }); // it may have had the focus already: then that scrolls nothing
}
