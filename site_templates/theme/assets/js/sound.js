// Clips of a sitting: loaded before they are needed, played one at a time, and if not, why not.

import { clipsOf } from "./tasks.js";

/** @import { ClipData, Player, Run } from "../../../types" */

const MAX_LOAD_WAIT_MS = 8000; // how long a start waits for clips and pictures before it goes on
const MAX_OVERDUE_MS = 1000; // after its length a clip counts as heard, whatever the browser says

export const OWN = "own"; // the client's last try, where it was recorded

/** @param {Player} player */
export function makeSound(player) {
  let request = 0;

  return {
    unlock: () => player.unlock(),
    /** What plays is called off; a clip that was cut short tells nothing more. */
    quiet() {
      player.stop();
      request += 1;
    },
    /**
     * Play one clip: "heard", or what is wrong, no connection or no volume; null when another was asked
     * for meanwhile.
     * @param {Pick<ClipData, "src" | "duration">} clip @returns {Promise<"heard" | "connection" | "volume" | null>}
     */
    async play(clip) {
      const own = ++request;
      const overdue = new Promise((resolve) => setTimeout(() => resolve(true), clip.duration * 1000 + MAX_OVERDUE_MS));
      const played = await Promise.race([player.play(clip.src).catch(() => false), overdue]);
      if (own !== request) return null;
      if (played) return "heard";
      return (await player.has(clip.src)) ? "volume" : "connection";
    },
    /** @param {Float32Array<ArrayBuffer>} samples @param {number} rate  Hz */
    keepOwn: (samples, rate) => player.hold(OWN, samples, rate),
    dropOwn() {
      player.stop();
      player.drop(OWN);
    },
    /** It will be played later. @param {ClipData} clip */
    ahead: (clip) => void player.load([clip.src]),
    /**
     * What comes now is there, or nearly so; all else that the run may play or show follows at once, so
     * that a connection that is lost later is not missed.
     * @param {Pick<Run, "tasks" | "steps" | "at">} run
     */
    async load({ tasks, steps, at }) {
      const now = tasks.slice(at, at + 1);
      const letters = document.fonts.load('1em "Practice Letters"').catch(() => undefined);
      const wait = new Promise((resolve) => setTimeout(resolve, MAX_LOAD_WAIT_MS));
      await Promise.race([Promise.all([letters, player.load(now.flatMap(clipsOf)), ...picturesOf(now)]), wait]);
      const easier = steps.flatMap(({ items }) => items.flatMap(({ natural }) => natural?.src ?? []));
      void player.load([...new Set([...tasks.flatMap(clipsOf), ...easier])]);
      picturesOf(tasks);
    },
  };
}

/** The pictures of tasks, each asked for once. @param {Run["tasks"]} tasks */
function picturesOf(tasks) {
  const sources = tasks.flatMap(({ item, pair }) => (pair ?? [item]).flatMap(({ picture }) => picture?.src ?? []));
  return [...new Set(sources)].map(loadPicture);
}

/** A picture that is there, or will not come. @param {string} src */
async function loadPicture(src) {
  const image = new Image();
  image.src = src;
  await image.decode().catch(() => undefined);
}
