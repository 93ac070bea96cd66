"""The end of a sitting for the client: stones that go on from one to the next, and praise."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import repeat
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from builder.model.plan import Plan
from tests.browser.axe import found
from tests.browser.conftest import TABLET, Watched, serving, watch
from tests.browser.sitting import by_hand, mark, practise, press, skip_time, until
from tests.support import plans
from tests.support.building import built_once

pytestmark = pytest.mark.browser
PRAISE = plans.clip("you-did-it")
# Clips are played by Web Audio: how many were.
HEARD = """const begin = AudioBufferSourceNode.prototype.start;
window.heard = 0;
AudioBufferSourceNode.prototype.start = function () { heard += 1; begin.call(this); };"""


def with_path(praise: bool) -> Plan:
    """A plan with a path; `praise`: a voice says the words at the end."""
    plan = plans.plan(gone=())
    clips = (*plan.clips, PRAISE) if praise else plan.clips
    return replace(plan, path=True, praise=PRAISE if praise else None, clips=clips)


@pytest.fixture(scope="module")
def base(run_folder: Path, stock: Path) -> Iterator[str]:
    """The address of a site with a path."""
    with serving(built_once(with_path(praise=True), run_folder / "stones", stock)) as address:
        yield address


@pytest.fixture(scope="module")
def unspoken(run_folder: Path, stock: Path) -> Iterator[str]:
    """The same where the helper speaks."""
    with serving(built_once(with_path(praise=False), run_folder / "unspoken", stock)) as address:
        yield address


@pytest.fixture
def opened(browser: Browser) -> Iterator[Watched]:
    """A page on a tablet, at no address yet."""
    context = browser.new_context(viewport=TABLET, reduced_motion="reduce")
    watched = watch(context, "")
    by_hand(watched.page, plans.SLUG)
    yield watched
    context.close()


def sitting(page: Page, start: str, tries: int = 0) -> None:
    """From a button of today's page to the end, or to a stop after so many tries."""
    page.locator(f"[data-key={start}]").click()
    skip_time(page)
    if tries:
        for _ in range(tries):
            on(page)
            mark(page, "clear")
        stop(page)
    else:
        practise(page, repeat("clear"))
    page.clock.resume()
    expect(page.locator(".summary")).to_be_visible()


def on(page: Page) -> None:
    """Past what stands between two tries."""
    if page.locator(".interlude").count():
        page.locator(".interlude [data-key=go-on]").click()


def stop(page: Page) -> None:
    """Leave it for today."""
    on(page)
    press(page, "Stop")
    press(page, "Enough for today")


def shown(page: Page) -> tuple[str | None, int, int]:
    """The path in words, its stones of today and all that are laid."""
    stones = page.locator(".stones")
    expect(stones).to_be_visible()
    today, before = stones.locator(".of-today").count(), stones.locator(".laid").count()
    return stones.get_attribute("aria-label"), today, today + before


def test_the_second_sitting_goes_on_where_the_first_one_ended(
    opened: Watched, base: str, axe: str
) -> None:
    opened.base = base
    opened.page.add_init_script(HEARD)
    page = opened.open("")
    expect(page.locator(".stones")).to_have_count(0)
    sitting(page, "start")
    eight = ("8 stones today. The path is 8 stones long.", 8, 8)
    assert shown(page) == eight
    until(page, "heard === 1")  # "You did it!"; no word was asked for
    assert found(page, axe) == []
    for width, height in ((360, 560), (844, 340), (820, 1106)):
        page.set_viewport_size({"width": width, "height": height})
        expect(page.locator(".summary [data-key=home]")).to_be_in_viewport(ratio=1)
        expect(page.locator(".stones")).to_be_in_viewport(ratio=1)
    press(page, "Back to today’s page")
    assert shown(page) == eight
    opened.open("")
    assert shown(page) == eight
    assert found(page, axe) == []
    sitting(page, "once-more", 4)
    assert shown(page) == ("10 stones today. The path is 10 stones long.", 10, 10)
    assert page.locator(".fresh").count() == 2
    expect(page.get_by_text("say “You did it!”")).to_have_count(0)
    assert opened.errors == []


def test_the_family_may_do_without_it_on_a_device(opened: Watched, base: str) -> None:
    opened.base = base
    opened.page.add_init_script(HEARD)
    page = opened.open("")
    sitting(page, "start", 2)
    expect(page.locator(".stones")).to_be_visible()
    until(page, "heard === 1")
    page.locator("summary[data-key=helper]").click()
    press(page, "No path or praise from now on (on this device)")
    expect(page.locator(".stones")).to_have_count(0)
    press(page, "Not done yet? Go on")
    page.clock.pause_at(page.evaluate("Date.now()") / 1000 + 1)
    mark(page, "clear")
    stop(page)
    expect(page.locator(".stones")).to_have_count(0)
    page.locator("summary[data-key=helper]").click()
    press(page, "Path and praise from now on (on this device)")
    assert shown(page)[1:] == (2, 2)
    assert page.evaluate("heard") == 1


def test_after_a_hard_sitting_nothing_is_praised_and_its_stones_stay(
    opened: Watched, base: str
) -> None:
    opened.base = base
    opened.page.add_init_script(HEARD)
    page = opened.open("")
    page.locator("[data-key=start]").click()
    skip_time(page)
    mark(page, "clear")
    press(page, "Stop")
    page.locator("[data-key=too-hard]").click()
    while not page.locator(".summary").count():  # four of ten: too hard in the easier step as well
        mark(page, "almost")
    page.clock.resume()
    assert shown(page)[1] > 0
    assert page.evaluate("heard") == 0


def test_where_no_voice_speaks_the_helper_is_asked_to_say_it(
    opened: Watched, unspoken: str
) -> None:
    opened.base = unspoken
    page = opened.open("")
    sitting(page, "start", 1)
    expect(page.get_by_text("Helper: say “You did it!”")).to_be_visible()


def test_who_practices_alone_and_has_a_path_is_told_nothing_more(
    opened: Watched, run_folder: Path, stock: Path
) -> None:
    plan = replace(with_path(praise=False), helper="self")
    with serving(built_once(plan, run_folder / "alone", stock)) as opened.base:
        page = opened.open("")
        sitting(page, "start", 1)
        assert shown(page)[1:] == (1, 1)
        expect(page.locator(".summary .note")).to_have_count(0)


def test_a_page_without_a_path_loads_nothing_of_it(
    opened: Watched, run_folder: Path, stock: Path
) -> None:
    with serving(built_once(plans.plan(gone=()), run_folder / "pathless", stock)) as opened.base:
        page = opened.open("")
        asked: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        sitting(page, "start", 1)
        page.locator("summary[data-key=helper]").click()
        expect(page.locator("[data-key=path], .stones")).to_have_count(0)
        assert not [url for url in asked if "stones" in url]
