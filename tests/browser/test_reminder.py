"""The family's own reminder: filled in by the plan, made by a tap, with nothing of it inside."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from icalendar import Calendar
from playwright.sync_api import Page, expect

from builder.text.wording import wording
from tests.browser.conftest import Watched
from tests.support import plans

pytestmark = pytest.mark.browser
SHARES = """navigator.canShare = ({ files }) => files.every((file) => file.name.endsWith(".ics"));
navigator.share = async ({ files }) => { window.shared = await files[0].text(); };"""


def events(text: str | bytes) -> list[Any]:
    """As another program reads them."""
    return list(Calendar.from_ical(text).walk("VEVENT"))


def test_the_file_says_what_the_family_chose_and_no_more(watched: Watched) -> None:
    page = watched.open("reminder/")
    expect(page.locator("[name=day]:checked")).to_have_count(5)
    page.get_by_label("Saturday").check()
    page.get_by_label("Morning").fill("")
    with page.expect_download() as saved:
        page.get_by_role("button", name="Save it for the calendar").click()
    named = wording("en")["reminder.file"]
    assert saved.value.suggested_filename == f"{named}.ics"
    expect(page.locator(".reminder-form [role=status]")).to_contain_text(f"“{named}”")
    text = Path(saved.value.path()).read_text("utf-8")
    (event,) = events(text)
    assert (event["SUMMARY"], event.start.strftime("%H:%M")) == ("A few minutes together", "18:30")
    assert event["RRULE"]["BYDAY"] == ["MO", "TU", "WE", "TH", "FR", "SA"]
    assert event["RRULE"]["COUNT"] == [24]
    ours = re.sub(r"^(UID|DTSTAMP|DTSTART):.*$", "", text, flags=re.MULTILINE)
    for told in ("otter", "07", plans.SLUG, "localhost", "127.0.0.1", "Riverside", "tongue"):
        assert told not in ours, told
    assert watched.errors == []


def test_it_is_shared_where_nothing_can_be_saved_and_asked_for_a_day(watched: Watched) -> None:
    watched.page.add_init_script(SHARES)
    watched.page.add_init_script("navigator.standalone = true;")
    page = watched.open("reminder/")
    expect(page.locator(".ways button")).to_have_text(["Share it with the calendar"])
    for day in ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday"):
        page.get_by_label(day).uncheck()
    press = page.get_by_role("button", name="Share it with the calendar")
    status = page.locator(".reminder-form [role=status]")
    press.click()
    expect(status).to_have_text("Pick a day and a time first.")
    page.get_by_label("Sunday").check()
    page.get_by_label("What it says").fill("Tea, then us")
    press.click()
    expect(status).to_have_text("")
    made = [(str(one["SUMMARY"]), f"{one.start:%a %H:%M}") for one in events(shared(page))]
    assert made == [("Tea, then us", "Sun 07:30"), ("Tea, then us", "Sun 18:30")]


def shared(page: Page) -> str:
    text: str = page.evaluate("window.shared")
    return text
