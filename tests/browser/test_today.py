"""The card of today's page: what it says at a given moment, with what the tablet holds."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from builder.model.practice_view import view_of
from tests.browser.axe import found
from tests.browser.conftest import Watched, serving, watch
from tests.browser.sitting import mark
from tests.support import plans
from tests.support.building import built_once

pytestmark = pytest.mark.browser
MONDAY, SATURDAY = datetime(2026, 12, 7, 18, 30), datetime(2026, 12, 12, 18, 30)
PLAN = plans.plan(plans.program_k(), plans.program_sh())


@pytest.fixture
def today(browser: Browser, base: str) -> Iterator[Watched]:
    """A tablet on which today's page may be opened, at Greenwich."""
    context = browser.new_context(viewport={"width": 360, "height": 560}, timezone_id="UTC")
    yield watch(context, base)
    context.close()


def sitting(start: datetime, done: int, end: str) -> dict[str, Any]:
    """A record as the tablet holds it, ten seconds a try, of these very steps."""
    trial = {"step": "k-words", "round": "1-natural-imitation", "item": "key", "form": "natural"}
    trial |= {"support": "imitation", "mark": "clear"}
    return {
        "record": 1,
        "id": f"{start:%Y%m%d%H%M}".rjust(32, "0"),
        "site": plans.SLUG,
        "plan": view_of(PLAN).digest,
        "practice": view_of(PLAN).practice_digest,
        "start": f"{start.isoformat()}+00:00",
        "time": "morning" if start.hour < 12 else "evening",
        "helper": "home",
        "trials": [{**trial, "ms": 10_000 * (n + 1)} for n in range(done)],
        "tallies": [],
        "note": "",
        "began": 0,
        "done": done,
        "end": end,
    }


def opened(today: Watched, now: datetime, *sittings: dict[str, Any]) -> Page:
    """Today's page at a moment."""
    kept = {f"practice:{plans.SLUG}:sitting:{s['id']}": json.dumps(s) for s in sittings}
    today.page.clock.install(time=now.isoformat())
    today.page.add_init_script(f"Object.assign(localStorage, {json.dumps(kept)});")
    return today.open("")


HALF_AN_HOUR = timedelta(minutes=30)
JUST_NOW = MONDAY - timedelta(minutes=10)
WHOLE = sitting(MONDAY - HALF_AN_HOUR, PLAN.tries, "done")
STATES = [
    pytest.param(MONDAY, [], "This evening", "Start · about 5 minutes", (1, 0), id="nothing yet"),
    pytest.param(
        MONDAY,
        [sitting(datetime(2026, 12, 7, 8, 0), PLAN.tries, "done")],
        "This evening",
        "Start · about 5 minutes",
        (2, 0),
        id="done this morning",
    ),
    pytest.param(
        MONDAY,
        [sitting(MONDAY - HALF_AN_HOUR, 12, "enough")],
        "Good start",
        "Go on · about 3 minutes",
        (2, 12),
        id="begun",
    ),
    pytest.param(
        MONDAY,
        [sitting(datetime(2026, 12, 7, 8, 0), 20, "time")],
        "This evening",
        "Start · about 5 minutes",
        (2, 20),
        id="cut off by time this morning",
    ),
    pytest.param(MONDAY, [WHOLE], "✓ Done this evening", "Once more", (2, 0), id="done"),
    pytest.param(
        SATURDAY, [], "No practice planned today", "Practice anyway", (1, 0), id="a free day"
    ),
    pytest.param(
        MONDAY + timedelta(weeks=2),
        [WHOLE],
        "This evening",
        "Start · about 5 minutes",
        (2, 0),
        id="two weeks later",
    ),
]


@pytest.mark.parametrize(("now", "sittings", "heading", "button", "kept"), STATES)
def test_the_card_says_what_belongs_to_now_and_is_whole_above_the_fold(
    today: Watched,
    now: datetime,
    sittings: list[dict[str, Any]],
    heading: str,
    button: str,
    kept: tuple[int, int],
) -> None:
    page = opened(today, now, *sittings)
    card = page.locator(".today")
    expect(card.get_by_role("heading")).to_have_text(heading)
    later = now > MONDAY + timedelta(weeks=1)
    over = "The planned days are over. You may go on. Ask your therapist for the new sheet."
    expect(page.get_by_text(over)).to_have_count(int(later))
    for width, height in ((360, 560), (390, 664)):
        page.set_viewport_size({"width": width, "height": height})
        expect(card).to_be_in_viewport(ratio=1)
    page.set_viewport_size({"width": 844, "height": 340})
    start = card.get_by_role("button", name=button, exact=True)
    expect(start).to_be_in_viewport(ratio=1)
    assert "miss" not in page.locator(".content").inner_text().lower()
    start.click()
    mark(page, "clear")
    texts: list[str] = page.evaluate("Object.values(localStorage)")
    records = sorted((json.loads(text) for text in texts), key=lambda record: record["start"])
    assert (len(records), records[-1]["began"]) == kept, "how many, and where the last began"
    assert today.errors == []


def test_a_pause_is_kept_on_the_tablet_until_it_is_over(today: Watched) -> None:
    page = opened(today, MONDAY)
    page.get_by_text("Sick, or away for a while?").click()
    page.get_by_role("button", name="Pause practice").click()
    expect(page.get_by_role("heading", name="Practice is paused")).to_be_visible()
    page = today.open("")
    expect(page.get_by_text("Take your time. Nothing is lost.")).to_be_visible()
    expect(page.locator(".today").get_by_role("button")).to_have_count(1)
    page.get_by_role("button", name="Start again").click()
    expect(page.get_by_role("button", name="Start · about 5 minutes")).to_be_visible()


def test_the_card_is_sound_in_every_state(today: Watched, axe: str) -> None:
    # Two weeks after the first sitting, so with the line on a new sheet, and begun as well.
    later = MONDAY + timedelta(weeks=2)
    page = opened(today, later, WHOLE, sitting(later - HALF_AN_HOUR, 9, ""))
    page.get_by_text("Sick, or away for a while?").click()
    assert found(page, axe) == []
    page.get_by_role("button", name="Pause practice").click()
    assert found(page, axe) == []


SLOW = """(({ open }) => {
  const asked = new Promise(resolve => addEventListener("go", resolve));
  IDBFactory.prototype.open = function (...name) {
    const request = open.apply(this, name);
    const later = take => request.addEventListener("success", e => asked.then(() => take(e)));
    return Object.defineProperty(request, "onsuccess", { set: later });
  };
})(IDBFactory.prototype);"""


@pytest.mark.parametrize(
    ("known", "then"),
    [
        pytest.param(sitting(JUST_NOW, 12, "enough"), "13 of 29", id="begun"),
        pytest.param(WHOLE, "Once more", id="done"),
    ],
)
def test_a_tap_before_the_memory_was_read_begins_nothing_anew(
    today: Watched, known: dict[str, Any], then: str
) -> None:
    today.page.add_init_script(SLOW)
    page = opened(today, MONDAY, known)
    page.locator("[data-key=start]").click()
    page.evaluate("dispatchEvent(new Event('go'))")
    expect(page.locator("practice-rounds").get_by_text(then, exact=True).first).to_be_visible()
    assert today.errors == []


def test_a_school_s_tablet_goes_by_the_times_of_the_school(
    browser: Browser, run_folder: Path, stock: Path
) -> None:
    plan = replace(
        PLAN,
        other_helpers=("school",),
        times=("morning", "midday", "evening"),
        times_by_role=(("home", ("morning", "evening")), ("school", ("midday",))),
    )
    folder = built_once(plan, run_folder / "site-by-role", stock)
    with serving(folder) as base, browser.new_context(timezone_id="UTC") as context:
        tablet = watch(context, base)
        tablet.page.add_init_script(
            f"localStorage['practice:{plans.SLUG}:settings'] = '{{\"helper\": \"school\"}}';"
        )
        page = opened(tablet, MONDAY)
        expect(page.locator(".today").get_by_role("heading")).to_have_text("At midday")
        page.get_by_role("button", name="Start · about 5 minutes", exact=True).click()
        mark(page, "clear")
        kept = page.evaluate("Object.values(localStorage).map((text) => JSON.parse(text))")
        assert [one["time"] for one in kept if "record" in one] == ["midday"]
        page = tablet.open("reminder/")
        expect(page.locator("input[type=time]")).to_have_count(1)
        expect(page.get_by_label("Midday")).to_have_value("12:30")
        assert tablet.errors == []
