"""A contrast round by clicking: chosen unseen, said, heard, looked at together; at every size."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, ViewportSize, expect

from builder.model.plan import PlannedProgram
from tests.browser.axe import found
from tests.browser.conftest import Watched, serving, watch
from tests.browser.sitting import kept, press
from tests.browser.test_rounds import SIZES, boxes
from tests.support import plans
from tests.support.building import built_once

pytestmark = pytest.mark.browser


def program() -> PlannedProgram:
    """Words before, pairs now: of two pictures, of picture and print, of print alone."""
    words = plans.program_k().steps[1]
    one = plans.round_(1, "natural", "spontaneous")
    key, cow, cave = words.items[0], words.items[1], words.items[4]
    others = (
        plans.item("tea", (("tea", False),), plans.drawing("1F375", "tea")),
        plans.item("how", (("how", False),)),
        plans.item("gave", (("gave", False),)),
    )
    pairs = plans.step("pairs", "word", "k", (), (key, cow, cave), easier=words.id)
    step = replace(
        pairs,
        rounds=(replace(one, id="natural-contrast", contrast=True, times=2),),
        pairs=(("key", "tea"), ("cow", "how"), ("cave", "gave")),
        others=others,
    )
    heard = replace(one, id="natural-contrast-imitation", support="imitation", contrast=True)
    bare = replace(
        step,
        id="k-bare",
        name="bare",
        rounds=(replace(heard, times=2),),
        items=(cave,),
        pairs=(("cave", "gave"),),
        imitated=(("cave", "gave"),),
        others=others[-1:],
    )
    return replace(plans.program_k(), steps=(replace(words, current=False, easier=""), step, bare))


@pytest.fixture(scope="module")
def base(run_folder: Path, stock: Path) -> Iterator[str]:
    """The address of a site with a contrast step."""
    plan = plans.plan(program(), gone=())
    extra = [item for step in plan.programs[0].steps for item in step.others]
    plan = replace(
        plan,
        clips=(*plan.clips, *(item.natural for item in extra if item.natural)),
        pictures=(*plan.pictures, *(item.picture for item in extra if item.picture)),
    )
    with serving(built_once(plan, run_folder / "contrast", stock)) as address:
        yield address


def started(watched: Watched) -> Page:
    page = watched.open("k-pairs/")
    press(page, "Start")
    return page


def status(page: Page) -> Locator:
    return page.get_by_role("status")


def test_a_pair_chosen_said_heard_and_looked_at(watched: Watched) -> None:
    page = started(watched)
    expect(status(page)).to_have_text(
        "1 of 6: key or tea. Pick one in secret. Tap it. Helper: name both, then look away."
    )
    press(page, "key")
    expect(status(page)).to_contain_text("Helper: tap the one that you heard.")
    press(page, "tea")
    expect(status(page)).to_have_text(
        "Heard: tea. Was that the one? Say yes or no. "
        "Helper: wait for the answer. Then look together."
    )
    press(page, "Look together")
    expect(status(page)).to_have_text(
        "Picked: key. Heard: tea. It was the other one. "
        "Helper: say the picked word once yourself, with a smile."
    )
    pair = page.get_by_role("group", name="The two words")
    expect(pair.locator(".side.answered")).to_have_count(2)
    press(page, "Next")
    press(page, "how")
    press(page, "how")
    press(page, "Look together")
    expect(status(page)).to_have_text("Picked: how. Heard: how. You both had the same one.")
    (sitting,) = kept(page)
    assert [(t.item, t.chosen, t.heard, t.mark) for t in sitting.trials] == [
        ("key", "key", "tea", "missed"),
        ("how", "how", "how", "clear"),
    ]
    assert {t.support for t in sitting.trials} == {"spontaneous"}
    assert watched.errors == []


def test_after_the_choice_nothing_on_the_screen_depends_on_it(watched: Watched) -> None:
    seen = []
    for choice in ("key", "tea"):
        page = started(watched)
        press(page, choice)
        expect(page.get_by_text("It is hidden. Say it now!").last).to_be_visible()
        focus = page.evaluate("document.activeElement.outerHTML")
        seen.append((page.locator("practice-rounds").inner_html(), focus))
        page.evaluate("localStorage.clear()")
    assert seen[0] == seen[1]


def test_the_choice_and_the_tap_can_be_mended(watched: Watched) -> None:
    page = started(watched)
    press(page, "key")
    press(page, "Pick again")
    press(page, "tea")
    press(page, "key")
    expect(page.get_by_role("button", name="key", exact=True)).to_have_attribute(
        "aria-pressed", "true"
    )
    press(page, "tea")
    press(page, "Look together")
    (sitting,) = kept(page)
    assert [(t.chosen, t.heard) for t in sitting.trials] == [("tea", "tea")]


def test_a_pair_that_was_not_tried_holds_no_choice(watched: Watched) -> None:
    page = started(watched)
    press(page, "not tried")
    expect(page.get_by_role("heading", name="2 of 6")).to_be_visible()
    (sitting,) = kept(page)
    (trial,) = sitting.trials
    assert (trial.item, trial.mark, trial.chosen, trial.heard) == ("key", "not_tried", None, None)


def test_words_heard_first_make_it_an_imitation(watched: Watched) -> None:
    page = started(watched)
    press(page, "Hear both words")
    expect(page.get_by_text("Pick one in secret. Tap it.").last).to_be_visible()
    press(page, "key")
    press(page, "key")
    assert kept(page)[0].trials[0].support == "imitation"


def test_a_pair_without_pictures_is_heard_and_said_one_word_after_the_other(
    watched: Watched,
) -> None:
    page = watched.open("k-bare/")
    press(page, "Start")
    for word in ("cave", "gave"):
        expect(page.locator(".word-area")).to_contain_text(word)
        press(page, "Helper said it")
        press(page, "clear")
    expect(page.get_by_role("heading", name="You did it!")).to_be_visible()
    (sitting,) = kept(page)
    assert [(t.item, t.support, t.mark, t.chosen) for t in sitting.trials] == [
        ("cave", "imitation", "clear", None),
        ("gave", "imitation", "clear", None),
    ]
    assert watched.errors == []


def test_closing_the_page_goes_on_with_the_next_pair(watched: Watched) -> None:
    page = started(watched)
    press(page, "tea")
    press(page, "tea")
    page.reload()
    expect(page.get_by_role("button", name="Go on with number 2")).to_be_visible()


@SIZES
def test_every_state_fits_one_screen_and_fingers(
    browser: Browser, base: str, width: int, height: int
) -> None:
    size: ViewportSize = {"width": width, "height": height}
    context = browser.new_context(viewport=size, has_touch=True)
    page = watch(context, base).open("k-pairs/")
    press(page, "Start")
    for _ in range(3):
        for name in ("", "", "Look together", "Next"):
            fits(page, size)
            if name:
                press(page, name)
            else:
                page.locator("button.side").first.click()
    fits(page, size)
    context.close()


def fits(page: Page, size: ViewportSize) -> None:
    sides = page.locator(".side")
    expect(sides).to_have_count(2)
    for box in boxes(page.locator("button, .side")):
        assert box["y"] >= 0
        assert box["y"] + box["height"] <= size["height"]
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= size["width"]
        assert min(box["width"], box["height"]) >= 44
    one, other = boxes(sides)
    assert one["width"] >= 120
    assert (one["y"], one["width"], one["height"]) == pytest.approx(
        (other["y"], other["width"], other["height"]), abs=0.5
    ), "a word with a picture and one without are cards of one size"
    assert sides.evaluate_all("all => all.every(e => e.scrollHeight <= e.clientHeight)")


def test_keys_alone_are_enough(watched: Watched) -> None:
    page = started(watched)
    page.get_by_role("button", name="key", exact=True).focus()
    page.keyboard.press("Enter")
    page.get_by_role("button", name="key", exact=True).focus()
    page.keyboard.press("Space")
    expect(page.get_by_role("button", name="key", exact=True)).to_be_focused()
    page.get_by_role("button", name="Look together").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Next")).to_be_focused()


def test_axe_finds_nothing_in_any_state(watched: Watched, axe: str) -> None:
    page = started(watched)
    for name in ("tea", "key", "Look together", "Next"):
        assert found(page, axe) == []
        press(page, name)
    assert found(page, axe) == []


def test_without_scripts_all_words_are_listed(browser: Browser, base: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = watch(context, base).open("k-pairs/")
    words = [text.strip() for text in page.locator(".item .word").all_inner_texts()]
    assert words == ["key", "cow", "cave", "tea", "how", "gave"]
    page.goto(f"{base}helper/")
    page.get_by_text("How a round goes").click()
    expect(page.get_by_text("One of two", exact=True)).to_be_visible()
    context.close()
