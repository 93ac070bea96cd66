"""A whole sitting on today's page: two sounds in one run, its minutes, sound that fails, words that
play by themselves, a client who judges first."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from builder.model.plan import Plan, PlannedProgram
from tests.browser.axe import found
from tests.browser.conftest import TABLET, Watched, serving, watch
from tests.browser.sitting import MOMENT_MS, kept, mark, press, skip_time
from tests.support import plans
from tests.support.building import built_once

pytestmark = pytest.mark.browser


def begin(page: Page) -> None:
    """Start today's sitting; the page's clock stands from here on."""
    skip_time(page)
    start(page)


def start(page: Page) -> None:
    """Start today's sitting."""
    page.locator("[data-key=start]").click()
    page.locator(".task").wait_for()


def go_on(page: Page) -> None:
    """After a break."""
    press(page, "Go on")
    page.clock.run_for(MOMENT_MS)


def marked(page: Page, *kinds: str) -> None:
    """Mark try after try; breaths and rounds are passed by."""
    for kind in kinds:
        mark(page, kind)
        while page.locator(":is(.round, .breath) [data-key=go-on]").count():
            page.locator("[data-key=go-on]").click()
            page.clock.run_for(MOMENT_MS)


def test_two_sounds_are_one_run_with_one_warm_up_and_one_end(watched: Watched) -> None:
    page = watched.open("")
    begin(page)
    marked(page, "clear", "clear")
    expect(page.get_by_role("heading", name="1 of 29")).to_be_visible()
    for _ in range(15):
        expect(page.get_by_role("button", name="Stop")).to_be_visible()
        marked(page, "clear")
    expect(page.get_by_role("heading", name="16 of 29")).to_be_visible()
    marked(page, *["clear"] * 13, "missed")
    expect(page.get_by_role("heading", name="One last word")).to_be_visible()
    mark(page, "clear")
    expect(page.get_by_role("heading", name="You did it!")).to_be_visible()
    (sitting,) = kept(page)
    steps = ["k-with-a-vowel"] * 2 + ["k-words"] * 15 + ["sh-final-words"] * 15
    assert [t.step for t in sitting.trials] == steps, "the last word is the one that was clear"
    assert (sitting.began, sitting.done, sitting.end) == (0, 29, "done")
    press(page, "Back to today’s page")
    page.clock.resume()
    expect(page.get_by_role("button", name="Once more")).to_be_visible()
    assert watched.errors == []


def test_the_minutes_end_it_after_a_success_and_the_next_one_goes_on_there(
    watched: Watched,
) -> None:
    watched.page.clock.install(time="2026-12-07T08:15:00")
    page = watched.open("")
    page.clock.pause_at("2026-12-07T08:16:00")
    start(page)
    marked(page, "clear", "clear")
    for _ in range(9):  # a minute each; ten are planned
        page.clock.fast_forward(59_000)
        marked(page, "clear")
    page.clock.fast_forward(59_000)
    marked(page, "almost")
    expect(page.get_by_role("heading", name="11 of 29")).to_be_visible()
    mark(page, "clear")
    expect(page.get_by_role("heading", name="Good work for today!")).to_be_visible()
    assert [(s.done, s.end) for s in kept(page)] == [(11, "time")]
    press(page, "Back to today’s page")
    page.clock.fast_forward("10:00:00")  # the page is left open until the evening
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(page.get_by_role("heading", name="This evening")).to_be_visible()
    start(page)
    page.clock.run_for(MOMENT_MS)
    marked(page, "clear", "clear")
    expect(page.get_by_role("status")).to_contain_text("1 of 29: cow.")
    mark(page, "clear")
    here = sorted((s.start, s.began, s.done, s.time) for s in kept(page))
    assert [place for _, *place in here] == [[0, 11, "morning"], [11, 1, "evening"]]


def test_a_sitting_that_was_killed_goes_on_at_its_word_without_a_warm_up(watched: Watched) -> None:
    page = watched.open("")
    begin(page)
    marked(page, "clear", "clear", "clear")
    mark(page, "missed")
    page.reload()
    skip_time(page)
    page.locator("[data-key=resume]").click()
    expect(page.get_by_role("heading", name="3 of 29")).to_be_visible()
    mark(page, "clear")
    (sitting,) = kept(page)
    assert [(t.item, t.mark) for t in sitting.trials][2:] == [
        ("key", "clear"),
        ("cow", "missed"),
        ("cup", "clear"),
    ]
    assert sitting.done == 3


@pytest.mark.parametrize(
    ("fails", "says"),
    [
        pytest.param("**/*.mp3", "No connection", id="no connection"),
        pytest.param("", "This device does not play the sound", id="no volume"),
    ],
)
def test_when_no_clip_plays_it_says_why_and_the_helper_says_the_words(
    watched: Watched, axe: str, fails: str, says: str
) -> None:
    page = watched.page
    if fails:
        page.context.route(fails, lambda route: route.abort())
    else:  # the clip is there, and nothing can be heard
        page.add_init_script(
            """AudioContext.prototype.createBufferSource = () => { throw new Error("no"); };
            HTMLMediaElement.prototype.play = () => Promise.reject(new Error("no"));"""
        )
    page = watched.open("k-words/")
    page.set_viewport_size({"width": 844, "height": 340})  # a telephone that lies
    press(page, "Can you hear this?")
    expect(page.locator(".note")).to_be_in_viewport(ratio=1)
    expect(page.get_by_role("status")).to_contain_text(says)
    page.set_viewport_size(TABLET)
    press(page, "Start")
    press(page, "Hear it")
    expect(page.locator(".note")).to_contain_text(says)
    expect(page.get_by_role("status")).to_contain_text(says)
    expect(page.get_by_role("button", name="Helper said it")).to_be_focused()
    assert found(page, axe) == []
    expect(page.get_by_role("button", name="Hear it")).to_have_count(0)
    expect(page.get_by_role("status")).to_contain_text("Helper: say it once")
    press(page, "Helper said it")
    press(page, "clear")
    expect(page.get_by_role("status")).to_contain_text("2 of 15: cow. Helper: say it once")
    expect(page.locator(".note")).to_have_count(0)
    assert kept(page)[0].trials[0].support == "imitation"
    page.context.unroute_all()
    press(page, "Stop")
    press(page, "Try the sound again")
    press(page, "Go on")
    expect(page.get_by_role("button", name="Hear it")).to_be_visible()


def changed(program: PlannedProgram, level: str) -> PlannedProgram:
    """The words of a program as phrases that the client judges first."""
    before, now = program.steps
    now = dataclasses.replace(now, level=level, judges=True, current=True)  # type: ignore[arg-type]
    return dataclasses.replace(program, steps=(before, now))


@pytest.fixture(scope="module")
def judged(run_folder: Path, stock: Path) -> Iterator[tuple[str, Plan]]:
    """The address of a site with words that play by themselves and a client who judges first."""
    plan = dataclasses.replace(plans.plan(changed(plans.program_k(), "phrase")), paced=True)
    with serving(built_once(plan, run_folder / "judged", stock)) as address:
        yield address, plan


def test_words_play_by_themselves_and_the_client_judges_first(
    browser: Browser, axe: str, judged: tuple[str, Plan]
) -> None:
    context = browser.new_context(viewport=TABLET)
    watched = watch(context, judged[0])
    page = watched.open("k-words/")
    press(page, "Start")
    expect(page.locator(".marks.own:not(.sleeping)")).to_be_visible()  # heard without a tap
    expect(page.locator(".ring")).to_be_visible()
    expect(page.get_by_role("group", name="The child’s mark: how was it?")).to_be_visible()
    assert found(page, axe) == []
    press(page, "clear")
    expect(page.get_by_role("status")).to_have_text("Now the helper: what did you hear?")
    expect(page.locator(".mark[aria-pressed=true]")).to_have_count(0)
    press(page, "missed")
    press(page, "Go on")
    (sitting,) = kept(page)
    assert [(t.own, t.mark, t.support) for t in sitting.trials] == [
        ("clear", "missed", "imitation")
    ]
    press(page, "Stop")
    press(page, "I’ll tap to hear each word")  # and it goes on
    page.wait_for_timeout(2 * MOMENT_MS)
    expect(page.get_by_role("status")).to_contain_text("Listen. Then say it.")
    context.close()
