"""Thirty days on one tablet, through today's page with the clock moved on."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import watch
from tests.browser.sitting import mark, until
from tests.browser.test_today import PLAN, sitting
from tests.support import plans
from tests.support.thirty_days import DAYS, TRIALS

pytestmark = pytest.mark.browser
FIRST = datetime(2026, 12, 7)  # a Monday
CUT_OFF = 17  # planned tries of a sitting that time ended
SAVE = """async ([base, site, sitting]) => {
  const { browserApis, makeStore } = await import(base + "assets/js/store.js");
  await (window.kept ??= makeStore(browserApis(window), site)).save(sitting);
}"""
ALL = """async ([base, site]) => {
  const { browserApis, makeStore } = await import(base + "assets/js/store.js");
  return makeStore(browserApis(window), site).all();
}"""
CARD = (
    "[...document.querySelectorAll('.today h2, .today .choices [data-key]')].map(e => e.innerText)"
)


def expected(page: Page, now: datetime, heading: str, button: str) -> None:
    """The card says it at a moment, on a page that was left open, as soon as it has looked."""
    page.clock.set_fixed_time(f"{now.isoformat()}Z")
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    until(page, f"(card => card[0] === {heading!r} && card[1] === {button!r})({CARD})")
    late = now - FIRST - timedelta(hours=8) >= timedelta(weeks=2)
    assert page.locator(".new-sheet").count() == int(late), now


def practised(number: int, start: datetime, began: int) -> tuple[dict[str, Any], dict[str, Any]]:
    """A sitting half done, and at its end: every third is cut off by time. A warm-up and words said
    once more are trials too, so that all are 2,000."""
    count = 2 * DAYS
    trials = TRIALS // count + (number < TRIALS % count)
    done, end = (CUT_OFF, "time") if number % 3 == 1 else (PLAN.tries, "done")
    whole = {**sitting(start, trials, end), "done": done, "began": began}
    half = {**whole, "trials": whole["trials"][: trials // 2], "done": done // 2, "end": ""}
    return half, whole


def test_a_month_of_2000_trials_goes_through_today(browser: Browser, base: str) -> None:
    context = browser.new_context(timezone_id="UTC")
    watched = watch(context, base)
    page, kept, began = watched.page, list[dict[str, Any]](), 0
    page.clock.install(time=f"{FIRST.isoformat()}Z")
    watched.open("")
    for number in range(2 * DAYS):
        time, hour = (("morning", 8), ("evening", 18))[number % 2]
        start = FIRST + timedelta(days=number // 2, hours=hour)
        if start.weekday() < 5:
            expected(page, start, f"This {time}", f"Start · about {PLAN.minutes} minutes")
        else:
            expected(page, start, "No practice planned today", "Practice anyway")
        half, whole = practised(number, start, began)
        page.evaluate(SAVE, [base, plans.SLUG, half])
        left = PLAN.tries - half["done"]
        minutes = max(1, round(PLAN.minutes * left / PLAN.tries))
        later = start + timedelta(minutes=4)
        expected(page, later, "Good start", f"Go on · about {minutes} minutes")
        page.evaluate(SAVE, [base, plans.SLUG, whole])
        expected(page, start + timedelta(minutes=8), f"✓ Done this {time}", "Once more")
        kept.append(whole)
        began = (began + whole["done"]) % PLAN.tries if whole["end"] == "time" else 0
    assert sum(len(one["trials"]) for one in kept) == TRIALS
    assert page.evaluate(ALL, [base, plans.SLUG]) == kept
    page.clock.set_fixed_time(f"{(FIRST + timedelta(days=DAYS, hours=8)).isoformat()}Z")
    watched.open("").locator("[data-key=start]").click()
    page.clock.resume()
    mark(page, "clear")
    *before, last = page.evaluate(ALL, [base, plans.SLUG])
    assert before == kept
    assert (last["began"], len(last["trials"])) == (began, 1)
    assert watched.errors == []
    context.close()
