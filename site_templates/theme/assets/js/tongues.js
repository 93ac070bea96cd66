// The other languages of the pages: the one that a family chose on this device comes first from then on, where a
// code leads to the first one. A sheet in another language leads to that one, whatever was chosen. Without this the
// links lead there all the same.

import { browserApis, makeStore } from "./store.js";

const links = /** @type {HTMLElement} */ (document.querySelector(".tongues"));
const store = makeStore(browserApis(window), links.dataset.site ?? "");
const all = /** @type {HTMLAnchorElement[]} */ (Array.from(links.querySelectorAll("a")));

for (const link of all) {
  for (const kind of ["click", "auxclick"]) link.addEventListener(kind, () => store.choose({ tongue: link.dataset.tongue }));
}
// Only pages at the top lead on, and to none that does: there is no circle.
const first = links.dataset.first !== undefined;
const chosen = first && all.find((link) => link.dataset.tongue === store.settings().tongue);
if (chosen) location.replace(chosen.href + location.hash);
