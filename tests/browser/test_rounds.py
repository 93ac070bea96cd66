"""A step done by clicking, by roles and names, at tablet size."""

from __future__ import annotations

import json
from typing import Any

import pytest
from playwright.sync_api import Browser, FloatRect, Locator, Page, ViewportSize, expect

from builder.model.practice_view import view_of
from builder.model.record import Sitting
from tests.browser.conftest import LYING, PHONE, TABLET, Watched, watch
from tests.support import plans

pytestmark = pytest.mark.browser
SIZES = pytest.mark.parametrize(
    "size", [TABLET, LYING, PHONE], ids=["tablet upright", "tablet lying", "phone"]
)


def press(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).click()


def try_one(page: Page, mark: str, last: bool = False) -> None:
    press(page, mark)
    press(page, "Finish" if last else "Next")


def kept(page: Page) -> list[Sitting]:
    """The practice record as localStorage holds it."""
    texts: list[str] = page.evaluate("Object.values(localStorage)")
    return [Sitting.model_validate(json.loads(text)) for text in texts]


def in_database(page: Page) -> list[dict[str, Any]]:
    """The practice record as IndexedDB holds it."""
    found: list[dict[str, Any]] = page.evaluate(
        """name => new Promise((resolve, reject) => {
            const request = indexedDB.open(name);
            request.onerror = reject;
            request.onsuccess = () => {
                const all = request.result.transaction("sittings").objectStore("sittings").getAll();
                all.onsuccess = () => { request.result.close(); resolve(all.result); };
            };
        })""",
        f"practice-{plans.SLUG}",
    )
    return found


def test_a_whole_step_is_done_by_clicking(watched: Watched) -> None:
    page = watched.open("")
    page.get_by_role("link", name="Start practice: k, words").click()
    press(page, "Start")
    expect(page.get_by_role("heading", name="Round 1 · 1 of 15")).to_be_visible()
    expect(page.locator("practice-rounds img")).to_have_attribute("src", "../pictures/1F511.svg")
    press(page, "Hear it")
    expect(page.get_by_text("Now you say it.", exact=True).last).to_be_visible()
    for mark in ("clear", "almost", "clear", "not tried", "missed"):
        try_one(page, mark)
    press(page, "Next round")
    press(page, "Hear it")
    expect(page.get_by_text("Wait quietly…").last).to_be_visible()
    expect(page.get_by_text("Say it now!").last).to_be_visible()
    for _ in range(5):
        try_one(page, "clear")
    press(page, "Next round")
    for number in range(5):
        try_one(page, "clear", last=number == 4)
    expect(page.get_by_role("heading", name="You did it!")).to_be_focused()
    expect(page.get_by_text("14 tries. Well done!")).to_be_visible()
    page.locator("summary", has_text="For the helper").click()
    expect(page.get_by_role("listitem").filter(has_text="clear")).to_contain_text("12")
    page.get_by_label("A few words for your therapist").fill("went well")
    (sitting,) = kept(page)
    view = view_of(plans.plan(plans.program_k(), plans.program_sh()))
    assert (sitting.site, sitting.plan) == (plans.SLUG, view.digest)
    assert sitting.practice == view.practice_digest
    assert [t.mark for t in sitting.trials[:5]] == [
        "clear",
        "almost",
        "clear",
        "not_tried",
        "missed",
    ]
    assert [t.support for t in sitting.trials[::5]] == ["imitation", "delayed", "spontaneous"]
    assert sitting.note == "went well"
    assert in_database(page) == [sitting.model_dump(mode="json")]
    page.get_by_role("link", name="Back to today’s page").click()
    expect(page.get_by_text("Done today")).to_be_visible()
    assert watched.errors == []


def test_a_model_before_a_spontaneous_try_makes_it_an_imitation(watched: Watched) -> None:
    page = watched.open("sh-final-words/")
    press(page, "Start")
    for number in range(7):
        try_one(page, "clear")
        if number == 4:
            expect(page.get_by_role("heading", name="Time for a breath")).to_be_visible()
            press(page, "Go on")
    press(page, "Next round")
    press(page, "Too hard? Hear it first")
    expect(page.get_by_text("Now you say it.").last).to_be_visible()
    try_one(page, "clear")
    press(page, "clear")
    press(page, "Hear it now")
    (sitting,) = kept(page)
    assert [t.support for t in sitting.trials[-2:]] == ["imitation", "spontaneous"]
    assert {t.form for t in sitting.trials[:7]} == {"long"}


def test_misses_in_a_row_offer_the_way_back_within_one_sitting(watched: Watched) -> None:
    page = watched.open("k-words/")
    press(page, "Start")
    for _ in range(3):
        try_one(page, "missed")
    expect(page.get_by_role("heading", name="That was hard work")).to_be_focused()
    page.get_by_role("link", name="Go to an easier step: with a vowel").click()
    press(page, "Start")
    try_one(page, "clear")
    (sitting,) = kept(page)
    assert [t.step for t in sitting.trials] == ["k-words"] * 3 + ["k-with-a-vowel"]


def test_closing_the_page_loses_nothing(watched: Watched) -> None:
    page = watched.open("k-words/")
    press(page, "Start")
    try_one(page, "clear")
    press(page, "almost")
    page.reload()
    press(page, "Go on with number 3")
    expect(page.get_by_role("heading", name="Round 1 · 3 of 15")).to_be_visible()
    press(page, "missed")
    (sitting,) = kept(page)
    assert [t.mark for t in sitting.trials] == ["clear", "almost", "missed"]


def test_enough_for_today_is_always_there(watched: Watched) -> None:
    page = watched.open("k-words/")
    press(page, "Start")
    try_one(page, "clear")
    press(page, "Enough for today")
    expect(page.get_by_role("heading", name="Good work for today!")).to_be_visible()
    assert len(kept(page)[0].trials) == 1


def test_a_picture_round_shows_the_word_only_when_asked_or_marked(watched: Watched) -> None:
    page = watched.open("k-words/")
    press(page, "Start")
    for _ in range(2):
        for _ in range(5):
            try_one(page, "clear")
        press(page, "Next round")
    word = page.get_by_role("region", name="Practice rounds").get_by_text("key", exact=True)
    expect(word).to_have_count(0)
    press(page, "Show the word")
    expect(word).to_be_visible()
    try_one(page, "clear")
    expect(page.get_by_role("img", name="cow")).to_be_visible()
    press(page, "clear")
    region = page.get_by_role("region", name="Practice rounds")
    expect(region.get_by_text("cow", exact=True)).to_be_visible()


@SIZES
def test_the_rounds_fit_one_screen_and_fingers(
    browser: Browser, base: str, size: ViewportSize
) -> None:
    context = browser.new_context(viewport=size)
    page = watch(context, base).open("k-words/")
    press(page, "Start")
    expect(page.get_by_role("button", name="clear", exact=True)).to_be_visible()
    press(page, "clear")
    for box in boxes(page.locator("button")):
        assert box["y"] >= 0
        assert box["y"] + box["height"] <= size["height"]
        assert min(box["width"], box["height"]) >= 44
    (picture,) = boxes(page.locator("practice-rounds img"))
    assert picture["width"] >= 150
    context.close()


def boxes(shown: Locator) -> list[FloatRect]:
    """Where all of them that are to be seen lie, from one look."""
    found: list[FloatRect] = shown.evaluate_all(
        "all => all.filter(e => e.checkVisibility()).map(e => e.getBoundingClientRect().toJSON())"
    )
    assert found
    return found


def test_keys_alone_are_enough(watched: Watched) -> None:
    page = watched.open("k-words/")
    page.get_by_role("button", name="Start", exact=True).focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Hear it")).to_be_focused()
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    expect(page.get_by_role("button", name="clear", exact=True)).to_have_attribute(
        "aria-pressed", "true"
    )
    expect(page.get_by_role("button", name="clear", exact=True)).to_be_focused()


@pytest.mark.parametrize("missing", ["indexedDB", "localStorage"])
def test_one_memory_is_enough(watched: Watched, missing: str) -> None:
    watched.page.add_init_script(
        f"Object.defineProperty(window, '{missing}', {{get() {{ throw new Error('no'); }}}})"
    )
    page = watched.open("k-words/")
    press(page, "Start")
    try_one(page, "clear")
    page.reload()
    expect(page.get_by_role("button", name="Go on with number 2")).to_be_visible()
    assert watched.errors == []


def test_a_clip_sounds_within_50_ms_of_the_tap(watched: Watched) -> None:
    watched.page.add_init_script(
        """const start = AudioBufferSourceNode.prototype.start;
        AudioBufferSourceNode.prototype.start = function (...when) {
            window.sounded = performance.now(); return start.apply(this, when); };
        addEventListener("click", () => { window.tapped = performance.now(); }, true);"""
    )
    page = watched.open("k-words/")
    press(page, "Start")
    press(page, "Hear it")
    page.wait_for_function("window.sounded > window.tapped")
    assert page.evaluate("window.sounded - window.tapped") <= 50
