"""The page of a sitting dies thirty times, at moments that a seed draws, and each time goes on."""

from __future__ import annotations

import random
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from itertools import cycle, islice, pairwise

import pytest
from playwright.sync_api import Browser, Error, Page, expect

from builder.model.record import Sitting
from tests.browser.conftest import watch
from tests.browser.sitting import MOMENT_MS, kept
from tests.browser.test_today import PLAN

pytestmark = pytest.mark.browser
KILLS, SEED = 30, 12
CRASHES = 10  # each tenth death is the process's; at the others another page is loaded over it
BEGUN = datetime(2026, 12, 7, 7, 0)  # at Greenwich
MOST_ACTS = 9  # of a hand, before the page dies
RESTS_S = (3, 20, 100, 1500)  # before it is opened again; after the longest the record is another
STEPS = [s for p in PLAN.programs for s in p.steps if s.current]
ORDER = [(s.id, i.id) for s in STEPS for r in s.rounds for _ in range(r.times) for i in s.items]
LOOK = """() => {
  const shown = document.querySelector('practice-rounds');
  const keys = [...shown.querySelectorAll('[data-key]')].map(e => e.dataset.key);
  const place = shown.querySelector('.position')?.innerText ?? '';
  return [keys, place, !!shown.querySelector('.summary')];
}"""
TAP = "key => document.querySelector(`practice-rounds [data-key=${key}]`).click()"


@dataclass
class Told:
    """What a hand did: all marks, and at which of them a planned try was gone through."""

    marks: list[str] = field(default_factory=list)
    planned: list[int] = field(default_factory=list)
    here: int = 0  # planned tries of this sitting


def acts(page: Page, told: Told, rng: random.Random) -> Iterator[None]:
    """What a hand does on the page of a run, one act after the other, until it is over."""
    again = False
    while True:
        keys, place, over = page.evaluate(LOOK)
        if over:
            return
        if "retry" in keys:
            again = rng.random() < 0.5
            page.evaluate(TAP, "retry" if again else "go-on")
        elif "go-on" in keys:
            page.evaluate(TAP, "go-on")
        elif "decline" in keys:
            page.evaluate(TAP, "decline")
        else:
            page.clock.run_for(MOMENT_MS)  # a new word takes no mark
            yield
            kind = rng.choices(["clear", "almost", "missed", "not_tried"], [8, 1, 1, 1])[0]
            if place.endswith(f"of {PLAN.tries}") and not again:
                told.here += 1
                assert place == f"{told.here} of {PLAN.tries}"
                told.planned.append(len(told.marks))
            told.marks.append(kind)
            again = False
            page.evaluate(TAP, kind)
            yield
            page.clock.run_for(MOMENT_MS)  # the mark shows
        yield


def opened(page: Page, base: str, now: datetime) -> None:
    """Today's page at a moment, whatever was there; its clock stands from here on."""
    page.goto(base, wait_until="load")
    page.clock.pause_at(f"{now.isoformat()}Z")
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")


def killed(page: Page) -> Page:
    """Its process dies; another page is there."""
    with page.expect_event("crash"), suppress(Error):
        page.goto("chrome://crash")
    another = page.context.new_page()
    page.close()
    return another


def in_order(page: Page) -> list[Sitting]:
    """What the tablet holds, oldest first."""
    return sorted(kept(page), key=lambda sitting: sitting.start)


def used_ms(sittings: list[Sitting]) -> int:
    """As a helper would count: from mark to mark, and no rest for more than a minute."""
    times = ([0, *sorted(t.ms for t in sitting.trials)] for sitting in sittings)
    return sum(min(b - a, 60_000) for ms in times for a, b in pairwise(ms))


def test_thirty_deaths_lose_nothing_and_double_nothing(browser: Browser, base: str) -> None:
    context = browser.new_context(timezone_id="UTC")
    page = watch(context, base).page
    page.clock.install(time=f"{BEGUN.isoformat()}Z")
    rng, told, slot, first = random.Random(SEED), Told(), 0, 0
    now = BEGUN + timedelta(minutes=5)  # the clock has run meanwhile
    for death in range(KILLS):
        opened(page, base, now)
        here = in_order(page)[first:]
        over = told.here == PLAN.tries or used_ms(here) >= PLAN.planned_minutes * 60_000
        begun = bool(here) and not over
        if begun or not here:
            page.locator(f"[data-key={'resume' if begun else 'start'}]").click()
            page.locator(".task").wait_for()
            hand = acts(page, told, rng)
            for _ in islice(hand, rng.randint(1, MOST_ACTS)):
                pass
            over = page.locator(".summary").count() > 0
        else:
            expect(page.locator("[data-key=once-more]")).to_be_visible()
        assert [t.mark for s in in_order(page) for t in s.trials] == told.marks
        assert sum(s.done or 0 for s in in_order(page)[first:]) == told.here <= PLAN.tries
        first_of_next = len(in_order(page))
        died = datetime.fromtimestamp(page.evaluate("Date.now()") / 1000, UTC).replace(tzinfo=None)
        page = killed(page) if death % CRASHES == 0 else page
        now = died + timedelta(seconds=rng.choice(RESTS_S))
        if over:
            slot, first, told.here = slot + 1, first_of_next, 0
            now = BEGUN + timedelta(hours=12 * slot)
    opened(page, base, now)
    trials = [(t.step, t.item) for s in in_order(page) for t in s.trials]
    assert [trials[at] for at in told.planned] == [*islice(cycle(ORDER), len(told.planned))]
    assert slot >= 1
    context.close()
