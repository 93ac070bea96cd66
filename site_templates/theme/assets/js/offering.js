// Offers at the end of a sitting and what becomes of them: asks the device, keeps the family's answer.

import { offerNow, refusing } from "./offers.js";
import { withZone } from "./record.js";

/** @import { End, Offer, Store } from "../../../types" */
/** @typedef {Event & { prompt(): Promise<unknown>, userChoice: Promise<{ outcome: string }> }} InstallPrompt */

/**
 * answer: "" while it is asked; "done"; "no" where the device would not.
 * @typedef {{ kind: Offer, byHand: boolean, answer: "" | "done" | "no" }} Offered
 */

/**
 * @param {Store} store
 * @param {() => InstallPrompt | null} prompt  the browser's own question, where it has one
 * @param {Device} device
 * @typedef {object} Device
 * @property {boolean} standalone
 * @property {boolean} byHand
 * @property {() => Promise<boolean | null>} persisted
 */
export function makeOffering(store, prompt, device) {
  return {
    /** What is offered now, if anything; that it was is kept. @param {End} end @param {Date} now @returns {Promise<Offered | null>} */
    async find(end, now) {
      const sittings = (await store.all()).filter((one) => one.end).length;
      const today = withZone(now).slice(0, 10);
      const means = { prompt: Boolean(prompt()), byHand: device.byHand, standalone: device.standalone, persisted: await device.persisted() };
      const kind = offerNow(sittings, end, today, store.settings(), means);
      if (!kind || !store.choose({ offered: today })) return null; // a device that forgets would ask each time
      return { kind, byHand: kind === "install" && !means.prompt, answer: "" };
    },
    /** Within the tap. @param {Offered} offered @returns {Promise<Offered | null>}  null: the family said no */
    async take(offered) {
      if (offered.kind === "keep") {
        const kept = await store.persist();
        if (!kept) store.choose(refusing(store.settings(), "keep")); // the browser decides; asking again helps nothing
        return { ...offered, answer: kept ? "done" : "no" };
      }
      const question = prompt();
      await question?.prompt();
      return (await question?.userChoice)?.outcome === "accepted" ? { ...offered, answer: "done" } : null;
    },
    /** @param {Offered} offered */
    refuse: ({ kind }) => void store.choose(refusing(store.settings(), kind)),
  };
}

/**
 * The browser's own. Safari on a tablet says by `standalone` that a page can be put on the home screen,
 * and leaves it to the family.
 * @param {Window} window @returns {Device}
 */
export function browserDevice(window) {
  const { navigator } = window;
  const apple = /** @type {{ standalone?: boolean }} */ (navigator).standalone;
  return {
    standalone: apple === true || window.matchMedia("(display-mode: standalone)").matches,
    byHand: apple === false,
    persisted: async () => (await navigator.storage?.persisted?.().catch(() => null)) ?? null,
  };
}
