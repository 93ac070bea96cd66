// What comes after a run, under its summary: stones and praise, and what the family is offered. Each part
// is loaded when it is needed; a sitting ends as well without it.

/** @import { PageData, Run, Sitting, Store } from "../../../types" */
/** @import { InstallPrompt, Offered } from "./offering.js" */
/** @import { Say } from "./screens.js" */

/**
 * show: draw anew, and put the focus on what has this key.
 * @param {object} around
 * @param {PageData} around.page
 * @param {Store} around.store
 * @param {ReturnType<typeof import("./sound.js").makeSound>} around.sound
 * @param {Say} around.say
 * @param {(focus?: string) => void} around.show
 * @param {() => InstallPrompt | null} around.prompt
 */
export function makeAfterwards({ page, store, sound, say, show, prompt }) {
  /** @type {Promise<import("./ending.js").Ending | null> | null} */
  let ending = null;
  /** @type {ReturnType<typeof import("./offering.js").makeOffering> | null} */
  let offering = null;

  /** Null where it cannot be had now. */
  function ends() {
    ending ??= import("./ending.js").then(({ makeEnding }) => makeEnding({ store, page, sound, say, show }), () => null);
    return ending;
  }

  /** @param {Run} run */
  async function offered(run) {
    try {
      const { browserDevice, makeOffering } = await import("./offering.js");
      offering ??= makeOffering(store, prompt, browserDevice(window));
      return await offering.find(run.end, new Date());
    } catch {
      return null;
    }
  }

  return {
    /** While practice goes on: what the end needs is there by then. */
    ahead() {
      if (page.path) void ends();
    },
    /** It is over, with work done. @param {Run} run @param {() => Sitting | null} sitting */
    async of(run, sitting) {
      const found = page.path ? await ends() : null;
      const [offer] = await Promise.all([offered(run), found?.after(run, sitting())]);
      return { ending: found, offered: offer };
    },
    /** What the family answers; what is offered then. @param {Offered} offer */
    take: (offer) => offering?.take(offer) ?? null,
    /** For good. @param {Offered} offer */
    refuse(offer) {
      offering?.refuse(offer);
      return null;
    },
  };
}
