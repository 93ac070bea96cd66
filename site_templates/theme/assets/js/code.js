// A QR code as a drawing: black on white in any scheme, with its margin of four modules (ISO/IEC 18004).

import { correction, generate, mode } from "./vendor/lean-qr.js";

const MARGIN = 4; // modules on every side
const SVG = "http://www.w3.org/2000/svg";

/** @param {string} text @param {string} label */
export function drawCode(text, label) {
  const { size, path } = outline(text);
  const all = size + 2 * MARGIN;
  const svg = shape("svg", { viewBox: `0 0 ${all} ${all}`, role: "img", "aria-label": label, "shape-rendering": "crispEdges" });
  svg.append(shape("rect", { width: all, height: all, fill: "white" }), shape("path", { d: path, fill: "black" }));
  return svg;
}

/** Modules a side, and the dark ones as a path, each run of a row in one. @param {string} text */
export function outline(text) {
  const modules = /** @type {{ size: number, get: (x: number, y: number) => boolean }} */ (
    /** @type {unknown} */ (generate(mode.alphaNumeric(text), { minCorrectionLevel: correction.L })));
  let path = "";
  for (let y = 0; y < modules.size; y += 1) {
    for (let x = 0; x < modules.size; x += 1) {
      const from = x;
      while (modules.get(x, y)) x += 1;
      if (x > from) path += `M${from + MARGIN} ${y + MARGIN}h${x - from}v1h${from - x}z`;
    }
  }
  return { size: modules.size, path };
}

/** @param {string} name @param {Record<string, string | number>} attributes */
function shape(name, attributes) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  return made;
}
