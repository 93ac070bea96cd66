// What may be offered under the end of a sitting: the site on the home screen, or its record kept for
// good. At most one a day, not before the third sitting, and never again once refused. Pure.

/** @import { End, Offer, Settings } from "../../../types" */

export const FIRST_SITTING = 3;

/**
 * What the device can do. prompt: it can put the page on its home screen when asked; byHand: only the
 * family can, by the browser's menu; persisted: whether storage is kept for good, null where that is
 * not known.
 * @typedef {{ prompt: boolean, byHand: boolean, standalone: boolean, persisted: boolean | null }} Means
 */

/**
 * @param {number} sittings  finished ones, with that which just ended
 * @param {End} end  how it ended: after a hard one nothing is asked
 * @param {string} today  local day
 * @param {Settings} settings @param {Means} means
 * @returns {Offer | ""}
 */
export function offerNow(sittings, end, today, settings, means) {
  if (sittings < FIRST_SITTING || end === "hard" || settings.offered === today) return "";
  const refused = Array.isArray(settings.refused) ? settings.refused : [];
  const install = (means.prompt || means.byHand) && !means.standalone;
  if (install && !refused.includes("install")) return "install";
  return means.persisted === false && !refused.includes("keep") ? "keep" : "";
}

/** @param {Settings} settings @param {Offer} offer @returns {Settings} */
export function refusing(settings, offer) {
  return { refused: [...new Set([...(Array.isArray(settings.refused) ? settings.refused : []), offer])] };
}
