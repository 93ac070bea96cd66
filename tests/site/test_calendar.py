"""The calendar entry that a page makes, read by others: icalendar (RFC 5545), and the rules of
python-dateutil for what comes again."""

from __future__ import annotations

import datetime
import json
import subprocess
from typing import Any

import pytest
from dateutil.rrule import rrulestr
from icalendar import Calendar

from tests.support.node import node
from tests.support.places import ROOT

MODULE = ROOT / "site_templates" / "theme" / "assets" / "js" / "calendar.js"
MAKE = """
const { calendar } = await import(process.argv[1]);
const [wish, now] = [JSON.parse(process.argv[2]), new Date(2026, 11, 4, 17, 0)];
let at = 0;
process.stdout.write(calendar(wish, now, () => `id${at++}`));
"""
SAYS = "Ours, at six; “it’s time” \\ 5 minutes together, you, I, the dog 🐕 and all the others"
DAYS = ("Sat 05 Dec", "Tue 08 Dec", "Sat 12 Dec", "Tue 15 Dec", "Sat 19 Dec", "Tue 22 Dec")


@pytest.mark.slow  # a process
def test_other_programs_read_what_the_family_wished() -> None:
    wish = {"says": SAYS, "days": ["tue", "sat"], "at": ["07:30", "18:30"], "weeks": 3}
    line = [node(), "--input-type=module", "-e", MAKE, MODULE.as_uri(), json.dumps(wish)]
    made = subprocess.run(line, capture_output=True, check=True).stdout
    events: list[Any] = Calendar.from_ical(made).walk("VEVENT")
    assert [str(event["UID"]) for event in events] == ["id0", "id1"]
    for event, time in zip(events, ("07:30", "18:30"), strict=True):
        assert not event.errors
        assert event.start.tzinfo is None, "the family's own time, wherever it is"
        assert event.end - event.start == datetime.timedelta(minutes=5)
        assert event["DTSTAMP"].dt.tzinfo is not None
        assert (event["SUMMARY"], event["CLASS"]) == (SAYS, "PRIVATE")
        (alarm,) = event.walk("VALARM")
        assert (alarm["ACTION"], alarm["TRIGGER"].dt) == ("DISPLAY", datetime.timedelta())
        rule = rrulestr(event["RRULE"].to_ical().decode(), dtstart=event.start)
        assert [f"{day:%a %d %b %H:%M}" for day in rule] == [f"{day} {time}" for day in DAYS]
