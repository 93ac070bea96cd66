// How a sitting ends for the client: stones for the work done, and "You did it". Loaded once practice has
// begun, on a page that has a path; where the family wants neither, nothing is shown or played.

import { button, el } from "./dom.js";
import { mergeSittings } from "./record.js";
import { stonesPart } from "./stones-part.js";
import { hasPath } from "./stones.js";

/** @import { PageData, Run, Sitting, Store } from "../../../types" */
/** @typedef {ReturnType<typeof makeEnding>} Ending */

/**
 * show: draw anew, and put the focus on what has this key.
 * @typedef {object} Around
 * @property {Store} store
 * @property {Pick<PageData, "site" | "path" | "helper">} page
 * @property {Pick<ReturnType<typeof import("./sound.js").makeSound>, "play" | "ahead">} sound
 * @property {ReturnType<typeof import("./dom.js").wordsOf>} say
 * @property {(focus?: string) => void} show
 */

/** @param {Around} around */
export function makeEnding({ store, page, sound, say, show }) {
  let [praised, asksHelper] = [false, false];
  /** @type {(() => HTMLElement) | null} */
  let stones = null;
  /** @type {Sitting | null} */
  let sitting = null;
  const wanted = () => hasPath(page, store.settings());
  const clip = page.path?.praise ?? null;
  if (wanted() && clip) sound.ahead(clip);

  async function lay() {
    if (!sitting) return;
    const all = mergeSittings([...(await store.all()), sitting]);
    stones = await stonesPart(all, page, say, sitting);
  }

  /** Spoken once, when it was not too hard; by the helper where no voice is heard. @param {Pick<Run, "end" | "spoken">} run */
  async function praise({ end, spoken }) {
    asksHelper = false;
    if (page.helper === "self" || end === "hard" || !wanted()) return;
    const heard = Boolean(clip) && !spoken;
    asksHelper = !heard;
    if (!clip || !heard || praised) return;
    praised = true;
    const played = await sound.play(clip);
    asksHelper = played !== "heard" && played !== null;
    if (asksHelper) show();
  }

  async function choose() {
    store.choose({ path: !wanted() });
    await lay();
    show("path");
  }

  return {
    /** It is over, with work done. @param {Pick<Run, "end" | "spoken">} run @param {Sitting | null} now */
    async after(run, now) {
      sitting = now;
      void praise(run);
      if (wanted()) await lay();
    },
    /** Under the words of praise on the screen. */
    parts: () => (wanted() ? [asksHelper && el("p", { class: "note" }, say("path.say")), stones && stones()] : []),
    /** The family's choice for this device. */
    choice: () => button("path", say(wanted() ? "path.off" : "path.on"), () => void choose(), "minor"),
  };
}
