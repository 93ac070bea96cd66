// RFC 5545. That others read the same in it is tests/site/test_calendar.py's to say.
import assert from "node:assert/strict";
import { test } from "node:test";

import { calendar } from "../../site_templates/theme/assets/js/calendar.js";

const FRIDAY = new Date(2026, 11, 4, 17, 0); // local, as the family's clock
const wish = { says: "5 minutes together", days: ["mon", "wed", "fri"], at: ["18:30"], weeks: 2 };
const lines = (more = {}, now = FRIDAY) => calendar({ ...wish, ...more }, now, () => "0f").split("\r\n");
const starts = (more, now) => lines(more, now).filter((line) => line.startsWith("DTSTART"));

test("an entry for each time, which begins the next time that is to come", () => {
  assert.deepEqual(starts(), ["DTSTART:20261204T183000"]);
  assert.deepEqual(starts({ at: ["07:30", "18:30"] }), ["DTSTART:20261207T073000", "DTSTART:20261204T183000"]);
  assert.deepEqual(starts({ days: ["fri"], at: ["17:00"] }), ["DTSTART:20261211T170000"], "not now, but in a week");
  assert.deepEqual(starts({ days: ["fri"] }, new Date(2026, 11, 31, 20, 0)), ["DTSTART:20270101T183000"]);
  assert.ok(lines().includes("RRULE:FREQ=WEEKLY;COUNT=6;BYDAY=MO,WE,FR"));
});

test("without a day or a time there is none", () => {
  assert.equal(calendar({ ...wish, days: [] }, FRIDAY, () => ""), "");
  assert.equal(calendar({ ...wish, at: [] }, FRIDAY, () => ""), "");
});

test("no sound, and nothing but what the family wrote (section 3.6.6: DISPLAY shows a text)", () => {
  const text = lines().join("\n");
  assert.match(text, /ACTION:DISPLAY/);
  assert.doesNotMatch(text, /AUDIO|ATTACH|URL|LOCATION|ORGANIZER|ATTENDEE/);
});

test("a line has 75 octets at most, and is cut between characters (section 3.1)", () => {
  const says = "é🦆".repeat(40);
  const made = lines({ says });
  for (const line of made) assert.ok(new TextEncoder().encode(line).length <= 75, line);
  assert.ok(made.join("\r\n").replaceAll("\r\n ", "").includes(`SUMMARY:${says}`));
  assert.equal(made.at(-1), "", "the last line ends, too");
});

test("what would end a value or a line does not (section 3.3.11)", () => {
  assert.ok(lines({ says: "a;b,c\\d\r\nEND:VEVENT" }).includes("SUMMARY:a\\;b\\,c\\\\d END:VEVENT"));
});
