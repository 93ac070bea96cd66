"""A text or talk in a sitting: tapped, ended, confirmed, kept; at every size of a screen."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from builder.model.record import Sitting, Tally
from tests.browser.axe import found
from tests.browser.conftest import serving, watch
from tests.browser.sitting import mark, skip_time, until
from tests.support.building import built_once
from tests.support.past_sentences import HERON, heron

pytestmark = pytest.mark.browser
SIZES = ((360, 560), (390, 664), (844, 340), (820, 1106))
# "sauce" has the sound twice, and the text is longer than a telephone.
LONG = HERON.replace("Is it a bus?", "Is it sauce? " * 30)
SHOWN = """() => [...document.querySelectorAll('.controls button, .top *')].every((e) => {
    const box = e.getBoundingClientRect();
    return box.top >= 0 && box.left >= 0 && box.bottom <= innerHeight && box.right <= innerWidth;
})"""

# Whether the text goes on below, and whether the page says so.
BELOW = """() => {
    const area = document.querySelector('.text-area');
    const last = [...area.querySelectorAll('p')].at(-1).getBoundingClientRect().bottom;
    return [last > area.getBoundingClientRect().bottom, !!area.closest('.goes-on')];
}"""


@pytest.fixture(scope="module")
def base(run_folder: Path, stock: Path) -> Iterator[str]:
    with serving(built_once(heron(LONG), run_folder / "long-text", stock)) as address:
        yield address


@pytest.fixture
def page(browser: Browser, base: str) -> Iterator[Page]:
    """Today's practice at its first text, after the warm-up."""
    context = browser.new_context(viewport={"width": 360, "height": 560})
    watched = watch(context, base)
    yield begun(watched.open(""))
    assert watched.errors == []
    context.close()


def begun(page: Page) -> Page:
    skip_time(page)
    tap(page, "start")
    mark(page, "clear")
    mark(page, "clear")
    tap(page, "go-on")
    return page


def tap(page: Page, *keys: str) -> None:
    for key in keys:
        page.locator(f"[data-key={key}]").click()


def told(page: Page) -> list[Tally]:
    """The tallies that the tablet has kept, but for when they were made."""
    texts: list[str] = page.evaluate("Object.values(localStorage)")
    kept = [Sitting.model_validate(json.loads(text)) for text in texts]
    return [one.model_copy(update={"ms": 0}) for sitting in kept for one in sitting.tallies]


def tally(step: str, words: int | None = None, targets: int | None = None, **more: int) -> Tally:
    return Tally(step=step, words=words, targets=targets, later=False, ms=0).model_copy(update=more)


def test_a_reading_is_tapped_ended_and_confirmed(page: Page) -> None:
    # Sam and Cindy sit in the sun by the sea. They see six seals: words counted from 0.
    words = [f"word-{at}" for at in (0, 2, 2, 6)]
    tap(page, *words)
    assert page.locator(".slipped").all_inner_texts() == ["Sam", "sun"]
    tap(page, "stopped", "word-9")
    assert page.locator(".prompt").inner_text() == "5 sounds up to there, 2 not clear. Right?"
    assert page.get_by_role("status").inner_text() == "5 sounds up to there, 2 not clear. Right?"
    assert told(page) == [tally("s-at-the-sea", 10, 5)]
    tap(page, "fewer", "yes")
    assert told(page) == [tally("s-at-the-sea", 10, 5, slipped=1)]
    tap(page, "once-more", "whole", "yes")
    assert [one.slipped for one in told(page)] == [1, 0]


def test_a_word_with_two_targets_says_how_many_slipped(page: Page) -> None:
    sauce = page.locator(".tap", has_text="sauce").first
    for shown, said in (("1", "1 of 2"), ("2", "2 of 2"), ("0", "0 of 2")):
        sauce.press("Enter" if shown == "2" else " ")
        assert sauce.get_attribute("aria-label") == f"sauce: {said} not clear"
        assert sauce.get_attribute("aria-pressed") == str(shown != "0").lower()
    assert told(page) == []


def test_every_word_can_be_the_last_and_the_text_stays_where_it_is(page: Page) -> None:
    tap(page, "stopped")
    last = page.locator(".tap").last
    last.scroll_into_view_if_needed()
    before = page.locator(".text-area").evaluate("e => e.scrollTop")
    assert before > 100
    last.click()
    (one,) = told(page)
    assert one.words == page.locator("[data-word]").count()
    assert one.targets == 14 + 30 * 2  # of the 15 in the text one fell with "bus"; "sauce" has two
    assert page.locator(".text-area").evaluate("e => e.scrollTop") == before


def test_a_telling_is_counted_and_a_talk_told_from_memory(page: Page) -> None:
    tap(page, "whole", "uncounted", "next", "go-on", "slip", "slip", "take-back", "over", "yes")
    telling = tally("s-the-picnic", slipped=1)
    assert told(page)[1:] == [telling]
    tap(page, "go-on")
    assert page.locator(".situation").inner_text() == "At dinner, with Grandpa"
    tap(page, "later")
    assert page.locator("[data-key=yes]").count() == 0  # nobody has given a number
    tap(page, "none", "more", "more", "yes")
    page.locator(".summary").wait_for()
    assert told(page)[1:] == [telling, tally("s-dinner", slipped=2, later=True)]


def test_what_is_stopped_in_the_middle_is_kept_unconfirmed(page: Page) -> None:
    tap(page, "word-0", "pause", "go-on")
    assert page.locator(".slipped").all_inner_texts() == ["Sam"]
    tap(page, "pause", "stop")
    page.locator(".summary").wait_for()
    assert told(page) == [tally("s-at-the-sea")]


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_the_buttons_stay_in_view_at_every_size(
    browser: Browser, base: str, axe: str, width: int, height: int
) -> None:
    context = browser.new_context(viewport={"width": width, "height": height})
    watched = watch(context, base)
    page = begun(watched.open(""))
    assert page.evaluate(SHOWN)
    assert page.evaluate(BELOW) == [True, True], "what goes on below says so"
    page.locator(".text-area").evaluate("e => e.scrollTo(0, e.scrollHeight)")
    until(page, "!document.querySelector('.goes-on')")
    assert page.evaluate(BELOW) == [False, False]
    keys = ("stopped", "word-9", "yes", "next", "go-on", "slip", "over", "yes", "go-on", "later")
    for key in keys:
        tap(page, key)
        assert page.locator(".interlude").count() or page.evaluate(SHOWN), key
        if width == 360 and key in ("word-9", "later"):
            page.clock.resume()  # with a clock that stands axe-core hangs
            assert found(page, axe) == [], key
    assert watched.errors == []
    context.close()


def test_words_are_large_and_give_a_finger_room(page: Page) -> None:
    size, line = page.locator(".text-area p").first.evaluate(
        "e => [getComputedStyle(e).fontSize, getComputedStyle(e).lineHeight].map(parseFloat)"
    )
    assert size >= 20  # CSS px; a text to read aloud is larger than print
    assert line >= 1.7 * size
    boxes = [one.bounding_box() for one in page.locator(".tap").all()[:12]]
    assert all(box and min(box["width"], box["height"]) >= 24 for box in boxes)  # WCAG 2.2, 2.5.8
