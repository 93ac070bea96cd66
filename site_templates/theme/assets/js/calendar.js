// A calendar entry of the family's own wish (RFC 5545). Nothing goes into it but what they chose. Pure.

/** @import { Day } from "../../../types" */

/**
 * at: local times, as in "18:30". weeks: for which it is repeated.
 * @typedef {{ says: string, days: readonly Day[], at: readonly string[], weeks: number }} Wish
 */

const MAX_OCTETS = 75; // of a line, its end left out: RFC 5545, section 3.1
/** @type {Record<Day, string>} */
const BYDAY = { mon: "MO", tue: "TU", wed: "WE", thu: "TH", fri: "FR", sat: "SA", sun: "SU" };
/** @type {readonly Day[]} */
const DAYS = ["sun", "mon", "tue", "wed", "thu", "fri", "sat"]; // as Date.getDay() counts

/**
 * The text of an .ics file; "" for a wish without a day or a time. Times float (section 3.3.5): at half
 * past six wherever the family is.
 * @param {Wish} wish @param {Date} now @param {() => string} uid  a name that nobody else gives
 */
export function calendar({ says, days, at, weeks }, now, uid) {
  if (!days.length || !at.length) return "";
  const said = escaped(says);
  const lines = [
    "BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Reminder//Calendar entry//EN",
    ...at.flatMap((time) => [
      "BEGIN:VEVENT",
      `UID:${uid()}`,
      `DTSTAMP:${now.toISOString().replace(/[-:]|\.\d+/g, "")}`,
      `DTSTART:${first(days, time, now)}`,
      "DURATION:PT5M",
      `RRULE:FREQ=WEEKLY;COUNT=${weeks * days.length};BYDAY=${days.map((day) => BYDAY[day]).join(",")}`,
      `SUMMARY:${said}`,
      "CLASS:PRIVATE",
      "TRANSP:TRANSPARENT",
      "BEGIN:VALARM", "ACTION:DISPLAY", "TRIGGER:PT0S", `DESCRIPTION:${said}`, "END:VALARM",
      "END:VEVENT",
    ]),
    "END:VCALENDAR",
  ];
  return lines.map((line) => `${folded(line)}\r\n`).join("");
}

/** The next time that is still to come, which the rule must hold (section 3.8.5.3). @param {readonly Day[]} days @param {string} time @param {Date} now */
function first(days, time, now) {
  const [hour, minute] = time.split(":").map(Number);
  const next = [0, 1, 2, 3, 4, 5, 6, 7]
    .map((ahead) => new Date(now.getFullYear(), now.getMonth(), now.getDate() + ahead, hour, minute))
    .find((one) => one > now && days.includes(DAYS[one.getDay()]));
  const { y, m, d } = parts(/** @type {Date} */ (next));
  return `${y}${m}${d}T${two(hour)}${two(minute)}00`;
}

/** @param {Date} day */
const parts = (day) => ({ y: String(day.getFullYear()), m: two(day.getMonth() + 1), d: two(day.getDate()) });

/** @param {number} number */
const two = (number) => String(number).padStart(2, "0");

/** As the value of a TEXT (section 3.3.11), on one line. @param {string} text */
function escaped(text) {
  return text.replace(/[\u0000-\u001f\u007f]+/g, " ").trim().replace(/[\\;,]/g, "\\$&");
}

/** Never within a character. @param {string} line */
function folded(line) {
  const encoder = new TextEncoder();
  let [made, octets] = ["", 0];
  for (const character of line) {
    const more = encoder.encode(character).length;
    if (octets + more > MAX_OCTETS) [made, octets] = [`${made}\r\n `, 1];
    made += character;
    octets += more;
  }
  return made;
}
