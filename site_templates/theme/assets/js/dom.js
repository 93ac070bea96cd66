// Small helpers to draw. Text always goes in as text.

/** @import { Words } from "../../../types" */

/**
 * An element with attributes, listeners (`onclick`) and children. `false` and `null` are left out.
 * @param {string} name
 * @param {Record<string, unknown>} [attributes]
 * @param {...(Node | string | null | false)} children
 * @returns {HTMLElement}
 */
export function el(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value === false || value === null || value === undefined) continue;
    if (typeof value === "function") made.addEventListener(key.slice(2), /** @type {EventListener} */ (value));
    else made.setAttribute(key, value === true ? "" : String(value));
  }
  made.append(...children.filter((child) => child !== null && child !== false));
  return made;
}

/** @param {string} key @param {string | (string | Node)[]} label @param {() => void} onclick @param {string} [classes] */
export const button = (key, label, onclick, classes = "") =>
  el("button", { type: "button", class: `button ${classes}`.trim(), "data-key": key, onclick }, typeof label === "string" ? label : el("span", {}, ...label));

/** It takes the focus when the screen changes. @param {string} text @param {string} [classes] */
export const heading = (text, classes = "") => el("h2", { tabindex: -1, class: classes, "data-key": "heading" }, text);

const SVG = "http://www.w3.org/2000/svg";
/** The marks as shapes: full, half, empty, a dash. No colour says which is which. */
const SIGNS = {
  clear: [["circle", { cx: 12, cy: 12, r: 10, fill: "currentColor" }]],
  almost: [
    ["circle", { cx: 12, cy: 12, r: 9, fill: "none", stroke: "currentColor", "stroke-width": 2.5 }],
    ["path", { d: "M12 3a9 9 0 0 0 0 18z", fill: "currentColor" }],
  ],
  missed: [["circle", { cx: 12, cy: 12, r: 9, fill: "none", stroke: "currentColor", "stroke-width": 2.5 }]],
  not_tried: [["path", { d: "M5 12h14", stroke: "currentColor", "stroke-width": 3, "stroke-linecap": "round" }]],
  ear: [
    ["path", { d: "M6.5 9.5a5.7 5.7 0 0 1 11.4 0c0 3.6-3.2 4.4-3.6 7.2-.4 2.7-2.3 4.3-4.3 4.3-1.7 0-3-1-3.5-2.5", fill: "none", stroke: "currentColor", "stroke-width": 2.2, "stroke-linecap": "round" }],
    ["path", { d: "M9.6 9.7a2.7 2.7 0 0 1 5.2.4c0 1.7-1.9 2.1-2.5 3.7", fill: "none", stroke: "currentColor", "stroke-width": 2, "stroke-linecap": "round" }],
  ],
  wait: [
    ["path", { d: "M7 13.5V6.2M10.3 11V4.2M13.7 11V4.6M17 12V7", fill: "none", stroke: "currentColor", "stroke-width": 2.6, "stroke-linecap": "round" }],
    ["path", { d: "M5.7 12.5h12.6v2.3a6.2 6.2 0 0 1-11.2 3.7L3.6 14a1.5 1.5 0 0 1 2.1-2.1z", fill: "currentColor" }],
  ],
  mouth: [
    ["path", { d: "M2.5 11.5c3-2.5 4.7-6 7-6 1.2 0 1.7.7 2.5.7s1.3-.7 2.5-.7c2.3 0 4 3.5 7 6-1.5 4.5-5 7.5-9.5 7.5s-8-3-9.5-7.5z", fill: "none", stroke: "currentColor", "stroke-width": 2, "stroke-linejoin": "round" }],
    ["path", { d: "M6.5 11.3c2-.9 3.5-1.3 5.5-1.3s3.5.4 5.5 1.3c-.9 2.7-2.9 4.3-5.5 4.3s-4.6-1.6-5.5-4.3z", fill: "currentColor" }],
  ],
  back: [["path", { d: "M9.5 5 4.5 10l5 5M5 10h9a5 5 0 0 1 0 10h-3", fill: "none", stroke: "currentColor", "stroke-width": 2.2, "stroke-linecap": "round", "stroke-linejoin": "round" }]],
  microphone: [
    ["rect", { x: 9, y: 3, width: 6, height: 11, rx: 3, fill: "currentColor" }],
    ["path", { d: "M5.5 11.5a6.5 6.5 0 0 0 13 0M12 18v3M8.5 21h7", fill: "none", stroke: "currentColor", "stroke-width": 2, "stroke-linecap": "round" }],
  ],
  hear: [
    ["path", { d: "M3 9.5v5h4l5 4.5v-14l-5 4.5z", fill: "currentColor" }],
    ["path", { d: "M15.5 8.5a5 5 0 0 1 0 7M18.5 5.5a9.5 9.5 0 0 1 0 13", fill: "none", stroke: "currentColor", "stroke-width": 2, "stroke-linecap": "round" }],
  ],
};

/**
 * An element of a drawing.
 * @param {string} name @param {Record<string, string | number>} attributes @param {...SVGElement} children
 * @returns {SVGElement}
 */
export function shape(name, attributes, ...children) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  made.append(...children);
  return made;
}

/** @param {keyof typeof SIGNS} kind */
export function sign(kind) {
  const parts = SIGNS[kind].map(([name, attributes]) => shape(String(name), /** @type {Record<string, string | number>} */ (attributes)));
  return shape("svg", { class: "sign", viewBox: "0 0 24 24", width: 24, height: 24, "aria-hidden": "true" }, ...parts);
}

/** A line that closes round the picture in so many seconds. @param {number} seconds */
export function ring(seconds) {
  const line = shape("rect", { x: 1.5, y: 1.5, width: 97, height: 97, rx: 7, pathLength: 1 });
  const svg = shape("svg", { class: "ring", viewBox: "0 0 100 100", "aria-hidden": "true" }, line);
  svg.style.setProperty("--for", `${seconds}s`);
  return svg;
}

/** What is practiced, inside a sentence of the page: between Unicode's isolates (UAX #9). @param {string} text */
export const spoken = (text) => `\u2068${text}\u2069`;

/** The same as plain text. @param {string} text */
export const plain = (text) => text.replace(/[\u2068\u2069]/g, "");

/**
 * The words of a page; a missing word or value is a loud fault.
 * @param {Words} words @param {string} [language]  of what is practiced
 */
export function wordsOf(words, language = "") {
  /** @param {string} key @param {Record<string, string | number>} [values] */
  function say(key, values = {}) {
    if (!(key in words)) throw new Error(`no wording for '${key}'`);
    return words[key].replace(/\{([a-z_]+)\}/g, (_, name) => {
      if (!(name in values)) throw new Error(`wording '${key}' needs a value for '${name}'`);
      return String(values[name]);
    });
  }
  /** @param {string} key @param {number} number */
  say.count = (key, number) => say(`${key}.${number === 1 ? "one" : "many"}`, { number });
  /** A sentence with what is practiced in its own language. @param {string} text @returns {(string | Node)[]} */
  say.shown = (text) =>
    text.split(/\u2068([^\u2069]*)\u2069/).map((part, at) => (at % 2 ? el("span", { dir: "auto", lang: language }, part) : part)).filter(Boolean);
  /** A caution (strain, tiredness, what to keep private), in English as well for the helper while no speaker has read it. @param {string} key @returns {(string | Node)[]} */
  say.caution = (key) => {
    const english = words[`english.${key}`];
    return english ? [say(key), " ", el("span", { class: "in-english", lang: "en" }, english)] : [say(key)];
  };
  say.language = language;
  return say;
}
