"""A sitting of an adult who practices alone, by clicking: every screen addresses the client, and
the record says whose marks they are."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from builder.planning.make_plan import SiteContext, make
from tests.browser.conftest import TABLET, Watched, serving, watch
from tests.browser.sitting import by_hand, kept, mark, press, skip_time
from tests.support import plans
from tests.support.alone import DRAWN, EGRET, egret, not_for_adults
from tests.support.building import built_once, pages_of

pytestmark = pytest.mark.browser
SILENT = EGRET.replace("helper: self", "helper: self\nvoice: helper")


@contextmanager
def site_of(text: str, folder: Path, stock: Path) -> Iterator[tuple[str, Path]]:
    """The address and the folder of a site, built once a run."""
    plan = make(egret(text), DRAWN, SiteContext(plans.SLUG, {"embedded": "1"}))
    site = built_once(plan, folder, stock)
    with serving(site) as address:
        yield address, site


@pytest.fixture(scope="module")
def site(run_folder: Path, stock: Path) -> Iterator[tuple[str, Path]]:
    """The site of a client who practices alone."""
    with site_of(EGRET, run_folder / "alone", stock) as found:
        yield found


@pytest.fixture(scope="module")
def base(site: tuple[str, Path]) -> str:
    """Its address."""
    return site[0]


def read(page: Page) -> None:
    """Nothing on the screen is meant for a child or a helper."""
    assert not_for_adults(page.locator("body").inner_text()) == []


def mark_all(page: Page, *kinds: str) -> None:
    """Mark so many tries, reading every screen."""
    for kind in kinds:
        read(page)
        mark(page, kind)
    read(page)


def test_a_whole_sitting_addresses_the_client(watched: Watched) -> None:
    by_hand(watched.page, plans.SLUG)
    page = watched.open("")
    read(page)
    page.locator("[data-key=start]").click()
    expect(page.locator("practice-rounds img")).to_have_count(0)
    press(page, "Hear it")
    expect(page.get_by_role("status")).to_contain_text("Say it. Then tap what you heard.")
    expect(page.get_by_role("group", name="Your own mark: what did you hear?")).to_be_visible()
    skip_time(page)
    mark_all(page, "clear", "clear")
    expect(page.get_by_role("heading", name="Warm-up done")).to_be_focused()
    press(page, "Go on")
    mark_all(page, "missed", "missed", "missed")
    expect(page.get_by_role("heading", name="A hard stretch")).to_be_focused()
    press(page, "Go on")
    mark_all(page, "missed", "missed", "missed")
    expect(page.get_by_role("heading", name="Time for something easier")).to_be_focused()
    read(page)
    press(page, "Stay with this")
    mark_all(page, "clear", "clear")
    press(page, "Next round")
    page.clock.resume()
    press(page, "Hear it")
    expect(page.get_by_role("status")).to_contain_text("Say it now.")
    mark_all(page, *["clear"] * 8)
    press(page, "Next round")
    mark_all(page, *["clear"] * 8)
    expect(page.get_by_role("heading", name="Round done")).to_be_focused()
    press(page, "Go on")
    mark_all(page, *["clear"] * 4)
    expect(page.get_by_role("heading", name="Done for now")).to_be_focused()
    expect(page.get_by_text("30 tries.", exact=True)).to_be_visible()
    page.locator("summary", has_text="Your own marks").click()
    expect(
        page.get_by_role("heading", name="How you marked (second tries not counted)")
    ).to_be_visible()
    read(page)
    (sitting,) = kept(page)
    assert sitting.helper == "self"
    heard, not_heard, *supports = [trial.support for trial in sitting.trials]
    assert (heard, not_heard) == ("imitation", "spontaneous"), "the second clip was not played"
    assert supports[8:10] == ["delayed", "spontaneous"]
    assert supports[16] == "spontaneous"
    assert watched.errors == []


def test_every_page_addresses_the_client(watched: Watched, site: tuple[str, Path]) -> None:
    for path in pages_of(site[1]):
        page = watched.open(path)
        read(page)
        assert not_for_adults(page.title()) == []
        assert page.locator("img:not(.site-code)").count() == 0, "no drawing unasked"
    visit = watched.open("visit/")
    expect(visit.get_by_text("Nothing is kept on this device yet.")).to_be_visible()
    expect(visit.get_by_role("radio")).to_have_count(0)
    assert watched.errors == []


def test_without_a_clip_nobody_is_asked_to_say_the_word(
    browser: Browser, run_folder: Path, stock: Path
) -> None:
    context = browser.new_context(viewport=TABLET)
    with site_of(SILENT, run_folder / "silent", stock) as (base, _):
        watched = watch(context, base)
        page = watched.open("r-words/")
        press(page, "Start")
        expect(page.get_by_role("status")).to_have_text(
            "1 of 24: ring. No clip here. Say it as you practiced it with your therapist."
        )
        expect(page.get_by_role("button", name="Helper said it")).to_have_count(0)
        press(page, "clear")
        (sitting,) = kept(page)
        assert [trial.support for trial in sitting.trials] == ["spontaneous"]
        assert watched.errors == []
    context.close()
