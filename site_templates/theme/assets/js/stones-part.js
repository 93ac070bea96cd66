// The path of stones as a drawing, and in words for who does not see it. Loaded when there is one to show.

import { el, shape } from "./dom.js";
import { withZone } from "./record.js";
import { ANIMAL, HEIGHT, REACH, WIDTH, curve, hills, runsRight } from "./stones-curve.js";
import { PATH, hasPath, walk } from "./stones.js";

/** @import { PageData, PathData, Settings, Sitting } from "../../../types" */
/** @import { Point } from "./stones-curve.js" */
/** @import { Walk } from "./stones.js" */
/** @typedef {ReturnType<typeof import("./dom.js").wordsOf>} Say */

const NEXT_MS = 150; // from one new stone to the next: fourteen are there in two seconds
const STYLES = new URL("../stones.css", import.meta.url).href;
const styled = new Promise((resolve) => {
  document.head.append(el("link", { rel: "stylesheet", href: STYLES, onload: resolve, onerror: resolve }));
});

/**
 * What draws the path as it lies now, as often as the screen is drawn; null before the first stone.
 * @param {readonly Sitting[]} sittings  all of the site, oldest first
 * @param {Pick<PageData, "site" | "path">} page @param {Say} say
 * @param {Sitting | null} now  that which has just ended
 * @returns {Promise<(() => HTMLElement) | null>}
 */
export async function stonesPart(sittings, { site, path }, say, now = null) {
  const day = (now?.start ?? withZone(new Date())).slice(0, 10);
  const here = walk(sittings, day, now?.id);
  if (!here || !path) return null;
  await styled;
  const [points, behind] = [curve(`${site} ${here.number}`, PATH), hills(`${site} ${here.number}`)];
  return () => el("figure", { class: "path" },
    drawing(here, points, behind, path, inWords(here, say)),
    here.number > 1 && el("figcaption", {}, say(here.begun ? "path.begun" : "path.number", { number: here.number })));
}

/**
 * The same on a page where no sitting has just ended; null where the family wants none.
 * @param {readonly Sitting[]} sittings @param {Pick<PageData, "site" | "path">} page @param {Say} say @param {Settings} settings
 */
export const stonesNow = async (sittings, page, say, settings) => (hasPath(page, settings) ? stonesPart(sittings, page, say) : null);

/** @param {Walk} here @param {Say} say */
const inWords = ({ laid, today }, say) => `${today ? say.count("path.today", today) : ""} ${say.count("path.long", laid)}`.trim();

/** @param {Walk} here @param {readonly Point[]} points @param {readonly string[]} behind @param {PathData} path @param {string} label */
function drawing({ laid, today, fresh }, points, behind, path, label) {
  const stones = points.map(({ x, y }, i) => {
    if (i >= laid) return shape("circle", { class: "ahead", cx: x, cy: y, r: 3.4 });
    const [ofToday, at] = [i >= laid - today, i - Math.max(0, laid - fresh)];
    const stone = ofToday ? shape("path", { class: "of-today", d: corners(x, y) }) : shape("circle", { class: "laid", cx: x, cy: y, r: 4 });
    if (fresh > 0 && at >= 0) {
      stone.classList.add("fresh");
      stone.style.setProperty("--after", `${at * NEXT_MS}ms`);
    }
    return stone;
  });
  return shape("svg", { class: "stones", viewBox: `0 0 ${WIDTH} ${HEIGHT}`, role: "img", "aria-label": label },
    ...behind.map((d) => shape("path", { class: "hill", d })), ...stones, atHead(points, laid - 1, path));
}

/** A stone with four corners: another shape, not only another color. @param {number} x @param {number} y */
const corners = (x, y) => `M${x} ${y - REACH}L${x + REACH} ${y}L${x} ${y + REACH}L${x - REACH} ${y}Z`;

/** The client's animal on the last stone, looking where the path runs, or a ring round it. @param {readonly Point[]} points @param {number} at @param {PathData} path */
function atHead(points, at, { animal, faces }) {
  const { x, y } = points[at];
  if (!animal) return shape("circle", { class: "head", cx: x, cy: y, r: REACH + 3 });
  const turned = (faces === "right") !== runsRight(points, at);
  return shape("image", { href: animal.src, x: x - ANIMAL / 2, y: y - ANIMAL, width: ANIMAL, height: ANIMAL, ...(turned && { transform: `translate(${2 * x} 0) scale(-1 1)` }) });
}
