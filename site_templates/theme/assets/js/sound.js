// Clips of a sitting: loaded before they are needed, played one at a time, and if not, why not.

import { clipsOf } from "./tasks.js";

/** @import { ClipData, Player, Run } from "../../../types" */

const MAX_LOAD_WAIT_MS = 8000; // how long a start waits for clips and pictures before it goes on
const MAX_OVERDUE_MS = 1000; // after its length a clip counts as heard, whatever the browser says

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
     * @param {ClipData} clip @returns {Promise<"heard" | "connection" | "volume" | null>}
     */
    async play(clip) {
      const own = ++request;
      const overdue = new Promise((resolve) => setTimeout(() => resolve(true), clip.duration * 1000 + MAX_OVERDUE_MS));
      const played = await Promise.race([player.play(clip.src).catch(() => false), overdue]);
      if (own !== request) return null;
      if (played) return "heard";
      return (await player.has(clip.src)) ? "volume" : "connection";
    },
    /** All that a run may play or show is there, its letters too, or nearly so. @param {Pick<Run, "tasks" | "steps">} run */
    async load({ tasks, steps }) {
      const easier = steps.flatMap(({ items }) => items.flatMap(({ natural }) => natural?.src ?? []));
      const pictures = tasks.flatMap(({ item, pair }) => (pair ?? [item]).flatMap(({ picture }) => picture?.src ?? []));
      const wait = new Promise((resolve) => setTimeout(resolve, MAX_LOAD_WAIT_MS));
      const clips = player.load([...new Set([...tasks.flatMap(clipsOf), ...easier])]);
      const letters = document.fonts.load('1em "Practice Letters"').catch(() => undefined);
      await Promise.race([Promise.all([clips, letters, ...[...new Set(pictures)].map(loadPicture)]), wait]);
    },
  };
}

/** A picture that is there, or will not come. @param {string} src */
async function loadPicture(src) {
  const image = new Image();
  image.src = src;
  await image.decode().catch(() => undefined);
}
