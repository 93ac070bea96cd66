// What is offered under the end of a sitting. No state of its own.

import { button, el } from "./dom.js";

/** @import { PageData } from "../../../types" */
/** @import { Offered } from "./offering.js" */
/** @import { Actions, Say } from "./screens.js" */

/** @param {Offered | null} offered @param {PageData} page @param {Say} say @param {Actions} actions */
export function offerPart(offered, page, say, actions) {
  if (!offered) return null;
  const { kind, byHand, answer } = offered;
  if (answer) return el("p", { class: "offer note", role: "status" }, say(`offer.${kind}_${answer}`));
  return el("section", { class: "offer", "aria-labelledby": "offer" },
    el("h3", { id: "offer" }, say(`offer.${kind}`)),
    el("p", {}, say(byHand ? "offer.install_by_hand" : `offer.${kind}_text`)),
    byHand && el("p", {}, say("offer.send_first"), " ", el("a", { href: `${page.home}visit/`, "data-key": "send-first" }, say("visit"))),
    el("div", { class: "choices" },
      !byHand && button("offer-take", say(`offer.${kind}_take`), actions.takeOffer),
      button("offer-later", say("offer.later"), actions.leaveOffer, "minor"),
      button("offer-never", say("offer.never"), actions.refuseOffer, "minor")));
}
