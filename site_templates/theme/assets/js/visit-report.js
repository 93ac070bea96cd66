// The figures in words: for the page, and as the letter that goes before the data. Pure.

/** @import { Role, Support, VisitData } from "../../../types" */
/** @import { Count, Missed, Period, StepCount } from "./visit-figures.js" */
/** @import { wordsOf } from "./dom.js" */
/** @typedef {ReturnType<typeof wordsOf>} Tell */
/** @typedef {{ head: string, text: string, more: string[] }} Line */
/** @typedef {{ key: "steps" | "missed" | "notes", heading: string, lines: Line[] }} Section */
/**
 * `columns`: headings of the periods; `rows`: a label and a figure for each of them. `within`: the period
 * of the sections and of `listeners`, which is "" where one alone listened.
 * @typedef {{ columns: string[], rows: [string, ...number[]][], within: string, listeners: string, sections: Section[] }} Report
 */

/** @type {readonly Support[]} */
const SUPPORTS = ["imitation", "delayed", "spontaneous"];
/** @type {readonly Role[]} */
const ROLES = ["home", "other home", "school", "self"];

/**
 * Steps and words are those of the last days, where there was practice, else of all; so are the notes
 * without `everything`.
 * @param {{ recent: Period, all: Period }} figures
 * @param {VisitData} data
 * @param {Tell} tell
 * @param {boolean} everything
 * @returns {Report}
 */
export function report({ recent, all }, data, tell, everything = false) {
  const date = dates(data.language, "medium");
  const noted = everything ? date : dates(data.language, "short");
  const shown = recent.sittings ? recent : all;
  const since = tell("since", { day: date(all.since) });
  const periods = recent === all ? [all] : [recent, all];
  const row = (/** @type {"days" | "sittings" | "tries" | "hard"} */ key) => /** @type {[string, ...number[]]} */ ([tell(key), ...periods.map((one) => one[key])]);
  const heard = ROLES.filter((role) => shown.helpers[role]).map((role) => `${tell(`heard.${role}`)} ${shown.helpers[role]}`);
  const notes = (everything ? all : shown).notes.map(({ day, note }) => ({ head: noted(day), text: note, more: [] }));
  /** @type {Section[]} */
  const sections = [
    { key: "steps", heading: tell("steps"), lines: stepLines(shown.steps, data, tell) },
    { key: "missed", heading: tell("missed"), lines: missedLines(shown.missed, data, tell) },
    { key: "notes", heading: tell("notes"), lines: notes },
  ];
  return {
    columns: recent === all ? [since] : [tell("recent"), since],
    rows: [row("days"), row("sittings"), row("tries"), ...(all.hard ? [row("hard")] : [])],
    within: shown === all ? since : tell("recent"),
    listeners: heard.length > 1 ? tell("heard_by", { roles: heard.join(", ") }) : "",
    sections: sections.filter(({ lines }) => lines.length),
  };
}

/** A day in words, of any calendar day as it stands. @param {string} language @param {"long" | "medium" | "short"} style */
export function dates(language, style) {
  /** @type {Intl.DateTimeFormatOptions} */
  const parts = style === "short" ? { month: "short", day: "numeric" } : { dateStyle: style };
  const format = new Intl.DateTimeFormat(language, { ...parts, timeZone: "UTC" });
  return (/** @type {string} */ day) => format.format(new Date(`${day}T00:00:00Z`));
}

/** Published steps first, in their order. @param {readonly StepCount[]} counts @param {VisitData} data @param {Tell} tell */
function stepLines(counts, data, tell) {
  const place = (/** @type {StepCount} */ { step }) => (data.steps.findIndex(({ id }) => id === step) + 1) || Infinity;
  const of = (/** @type {Count} */ { clear, tries }) => tell("clear_of", { clear, tries });
  return [...counts].sort((a, b) => Math.sign(place(a) - place(b)) || 0).map(({ step, all, almost, supports, contrast, targets, slips }) => {
    const parts = SUPPORTS.flatMap((support) => {
      const count = supports[support];
      return count ? [`${tell(`support.${support}`)} ${of(count)}`] : [];
    });
    const missed = all.tries - all.clear - almost;
    const others = [almost && tell("almost", { number: almost }), missed && tell("misses", { number: missed })];
    const whole = all.tries ? [tell("clear", { count: of(all) }), ...others.filter(Boolean)].join(", ") : "";
    const besides = [
      contrast && tell("contrast", { count: of(contrast) }),
      targets && tell("targets", { count: of(targets) }),
      slips.length > 0 && tell("slips", { slips: slips.join(", ") }),
    ].filter((text) => typeof text === "string");
    return { head: stepName(step, data), text: whole, more: [...parts, ...besides] };
  });
}

/** A step that is gone has its id alone. @param {string} id @param {VisitData} data */
function stepName(id, { steps }) {
  const step = steps.find((one) => one.id === id);
  return step ? `${step.sound}: ${step.name}` : id;
}

/** @param {readonly Missed[]} words @param {VisitData} data @param {Tell} tell */
function missedLines(words, { steps }, tell) {
  return words.map(({ step, item, missed, tries }) => {
    const items = steps.find(({ id }) => id === step)?.items ?? [];
    const word = items.find(([id]) => id === item)?.[1] ?? item;
    return { head: word, text: tell("missed_of", { missed, tries }), more: [] };
  });
}

/**
 * What a person reads first in a message; the data come after it.
 * @param {Report} one @param {VisitData} data @param {Tell} tell @param {string} today  YYYY-MM-DD
 */
export function letter({ columns, rows, within, listeners, sections }, data, tell, today) {
  const blocks = [[tell("message.title", { client: data.client }), dates(data.language, "long")(today)]];
  for (const [at, column] of columns.entries()) blocks.push([column, ...rows.map(([label, ...of]) => `- ${label}: ${of[at]}`)]);
  for (const { key, heading, lines } of sections) blocks.push([key === "notes" ? heading : `${heading} (${within})`, ...lines.map(written)]);
  if (listeners) blocks.push([`${listeners} (${within})`]);
  blocks.push([tell("message.data")]);
  return blocks.map((lines) => lines.join("\n")).join("\n\n");
}

/** On one line, whatever the family's note holds. @param {Line} line */
function written({ head, text, more }) {
  const parts = [text, more.join(", ")].filter(Boolean).join("; ");
  return `- ${head}: ${parts}`.replace(/\s+/g, " ");
}
