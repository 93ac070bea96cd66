"""The screen of a text or talk: tapped, ended and confirmed, at the sizes of tablets and phones."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import serving, watch
from tests.browser.test_pages import found
from tests.support.building import built_once
from tests.support.past_sentences import HERON, heron

pytestmark = pytest.mark.browser
SIZES = ((360, 560), (390, 664), (844, 340), (820, 1106))
READING, TELLING, TALK = 0, 1, 2
# "sauce" has the sound twice, and the text is longer than a telephone.
LONG = HERON.replace("Is it a bus?", "Is it sauce? " * 30)
SCREEN = (Path(__file__).parent / "passage_alone.js").read_text("utf-8")
SHOWN = """() => [...document.querySelectorAll('.controls button, .top *')].every((e) => {
    const box = e.getBoundingClientRect();
    return box.top >= 0 && box.left >= 0 && box.bottom <= innerHeight && box.right <= innerWidth;
})"""


@pytest.fixture(scope="module")
def base(run_folder: Path, stock: Path) -> Iterator[str]:
    with serving(built_once(heron(LONG), run_folder / "long-text", stock)) as address:
        yield address


@pytest.fixture
def page(browser: Browser, base: str) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 360, "height": 560})
    watched = watch(context, base)
    yield watched.open("s-at-the-sea/")
    assert watched.errors == []
    context.close()


def tap(page: Page, *keys: str) -> None:
    for key in keys:
        page.locator(f"[data-key={key}]").click()


def told(page: Page) -> list[dict[str, Any]]:
    """The tallies as they would be kept, but for when and of which step."""
    return [
        {key: value for key, value in one.items() if key not in ("step", "ms")}
        for one in page.evaluate("told")
    ]


def tally(**known: int | bool) -> dict[str, Any]:
    return {"words": None, "targets": None, "slipped": None, "later": False} | known


def test_a_reading_is_tapped_ended_and_confirmed(page: Page) -> None:
    page.evaluate(SCREEN, READING)
    # Sam and Cindy sit in the sun by the sea. They see six seals: words counted from 0.
    words = [f"word-{at}" for at in (0, 2, 2, 6)]
    tap(page, *words)
    assert page.locator(".slipped").all_inner_texts() == ["Sam", "sun"]
    tap(page, "stopped", "word-9")
    assert page.locator(".prompt").inner_text() == "5 sounds up to there, 2 not clear. Right?"
    assert told(page) == [tally(words=10, targets=5)]
    tap(page, "fewer", "yes")
    assert told(page) == [tally(words=10, targets=5, slipped=1)]
    tap(page, "once-more", "whole", "yes")
    assert [one["slipped"] for one in told(page)] == [1, 0]


def test_a_word_with_two_targets_says_how_many_slipped(page: Page) -> None:
    page.evaluate(SCREEN, READING)
    sauce = page.locator(".tap", has_text="sauce").first
    for shown, said in (("1", "1 of 2"), ("2", "2 of 2"), ("0", "0 of 2")):
        sauce.press("Enter" if shown == "2" else " ")
        assert sauce.get_attribute("aria-label") == f"sauce: {said} not clear"
        assert sauce.get_attribute("aria-pressed") == str(shown != "0").lower()
    assert told(page) == []


def test_every_word_can_be_the_last_and_the_text_stays_where_it_is(page: Page) -> None:
    page.evaluate(SCREEN, READING)
    tap(page, "stopped")
    last = page.locator(".tap").last
    last.scroll_into_view_if_needed()
    before = page.locator(".text-area").evaluate("e => e.scrollTop")
    assert before > 100
    last.click()
    words, targets = page.evaluate("[told[0].words, told[0].targets]")
    assert words == page.locator("[data-word]").count()
    assert targets == 14 + 30 * 2  # of the 15 in the text one fell with "bus"; "sauce" has two
    assert page.locator(".text-area").evaluate("e => e.scrollTop") == before


def test_a_telling_is_counted_and_a_talk_told_from_memory(page: Page) -> None:
    page.evaluate(SCREEN, TELLING)
    tap(page, "slip", "slip", "take-back", "over", "yes")
    assert told(page) == [tally(slipped=1)]
    page.evaluate(SCREEN, TALK)
    assert page.locator(".situation").inner_text() == "At dinner, with Grandpa"
    tap(page, "later")
    assert page.locator("[data-key=yes]").count() == 0  # nobody has given a number
    tap(page, "none", "more", "more", "yes")
    assert told(page) == [tally(slipped=2, later=True)]


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_the_buttons_stay_in_view_at_every_size(
    browser: Browser, base: str, axe: str, width: int, height: int
) -> None:
    context = browser.new_context(viewport={"width": width, "height": height})
    watched = watch(context, base)
    page = watched.open("s-at-the-sea/")
    ways = {READING: ("stopped", "word-9"), TELLING: ("slip", "over"), TALK: ("later",)}
    for step, keys in ways.items():
        page.evaluate(SCREEN, step)
        assert page.evaluate(SHOWN), step
        for key in keys:
            tap(page, key)
            assert page.evaluate(SHOWN), (step, key)
        assert width != 360 or found(page, axe) == [], step
    assert watched.errors == []
    context.close()


def test_words_are_large_and_give_a_finger_room(page: Page) -> None:
    page.evaluate(SCREEN, READING)
    size, line = page.locator(".text-area p").first.evaluate(
        "e => [getComputedStyle(e).fontSize, getComputedStyle(e).lineHeight].map(parseFloat)"
    )
    assert size >= 20  # CSS px; a text to read aloud is larger than print
    assert line >= 1.7 * size
    boxes = [one.bounding_box() for one in page.locator(".tap").all()[:12]]
    assert all(box and min(box["width"], box["height"]) >= 24 for box in boxes)  # WCAG 2.2, 2.5.8
