"""A tap is taken whatever the screen does meanwhile: a finger stays down for about a tenth of a
second, and a screen may be drawn anew under it."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import PHONE, Watched, watch
from tests.browser.engines.family import FASTER, HURRY
from tests.browser.sitting import MOMENT_MS, mark, skip_time

pytestmark = pytest.mark.browser
DOUBLE_MS = 300  # two taps that soon after each other are a double tap


def at_the_first_word(watched: Watched) -> Page:
    page = watched.open("k-words/")
    skip_time(page)
    page.locator("[data-key=start]").click()
    page.locator(".task").wait_for()
    return page


def test_a_tap_outlasts_a_screen_drawn_anew(watched: Watched) -> None:
    page = at_the_first_word(watched)
    page.locator("[data-key=decline]").hover()
    page.mouse.down()
    page.clock.run_for(MOMENT_MS)  # the new word has rested: the marks are drawn anew
    page.mouse.up()
    expect(page.locator("[data-key=decline]")).to_have_count(0)
    expect(page.locator("[data-key=clear]")).not_to_have_attribute("aria-disabled", "true")


def test_so_does_a_key(watched: Watched) -> None:
    page = at_the_first_word(watched)
    page.locator("[data-key=decline]").focus()
    page.keyboard.down(" ")
    page.clock.run_for(MOMENT_MS)
    page.keyboard.up(" ")
    expect(page.locator("[data-key=decline]")).to_have_count(0)


def test_a_finger_that_slips_off_only_puts_the_drawing_off(watched: Watched) -> None:
    page = at_the_first_word(watched)
    page.locator("[data-key=decline]").hover()
    page.mouse.down()
    page.clock.run_for(MOMENT_MS)
    page.mouse.move(1, 1)
    page.mouse.up()
    page.clock.run_for(MOMENT_MS)
    expect(page.locator("[data-key=decline]")).to_have_count(1)
    page.locator("[data-key=decline]").click()
    expect(page.locator("[data-key=clear]")).not_to_have_attribute("aria-disabled", "true")


def test_a_tap_on_start_outlasts_what_the_card_learns_meanwhile(watched: Watched) -> None:
    watched.base = watched.base.replace("127.0.0.1", "localhost")  # there the site is kept, too
    page = watched.open("")
    quick = HURRY.replace("arguments[0]", str(FASTER))
    page.evaluate(f"{{ {quick} }}")  # the rest of a site is fetched after some quiet seconds
    page.locator("[data-key=start]").hover()
    page.mouse.down()
    expect(page.locator(".ready")).to_contain_text("Works without internet")
    page.mouse.up()
    page.locator(".task").wait_for()


def test_a_tap_on_start_outlasts_a_page_that_is_seen_again(watched: Watched) -> None:
    page = watched.open("k-words/")
    page.locator("[data-key=start]").hover()
    page.mouse.down()
    looked = "new Promise((done) => setTimeout(done, 200))"  # at what is kept: milliseconds
    page.evaluate(f"document.dispatchEvent(new Event('visibilitychange')); {looked}")
    page.mouse.up()
    page.locator(".task").wait_for()


def test_a_finger_does_not_tap_what_comes_under_it(browser: Browser, base: str) -> None:
    """The marked try had one button there; the next word has a second one beside it."""
    context = browser.new_context(viewport=PHONE, has_touch=True)
    page = at_the_first_word(watch(context, base))
    page.locator("[data-key=decline]").tap()
    page.clock.run_for(MOMENT_MS)
    page.locator("[data-key=clear]").tap()
    edge = page.locator("[data-key=hear]").bounding_box()
    assert edge
    finger = context.new_cdp_session(page)
    spot = {"x": edge["x"] + edge["width"] - 20, "y": edge["y"] + edge["height"] / 2}
    finger.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [spot]})
    page.clock.run_for(MOMENT_MS)
    under = page.locator("[data-key=decline]").bounding_box()
    assert under
    assert under["x"] < spot["x"] < under["x"] + under["width"]
    finger.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    page.clock.run_for(MOMENT_MS)
    expect(page.locator("[data-key=decline]")).to_have_count(1)
    page.locator("[data-key=decline]").tap()
    expect(page.locator("[data-key=decline]")).to_have_count(0)
    context.close()


def test_a_double_tap_is_not_for_what_its_first_tap_brought(browser: Browser, base: str) -> None:
    """Where one could stop, the end of the sitting has the button to go on."""
    context = browser.new_context(viewport={"width": 390, "height": 664}, has_touch=True)
    page = at_the_first_word(watch(context, base))
    mark(page, "clear")
    page.locator("[data-key=pause]").tap()
    stop = page.locator("[data-key=stop]").bounding_box()
    assert stop
    spot = (stop["x"] + stop["width"] / 2, stop["y"] + stop["height"] - 9)
    page.touchscreen.tap(*spot)
    page.touchscreen.tap(*spot)
    expect(page.locator(".summary")).to_be_visible()
    on = page.locator("[data-key=go-on]").bounding_box()
    assert on
    page.clock.run_for(DOUBLE_MS)
    assert on["y"] < spot[1] < on["y"] + on["height"]
    page.touchscreen.tap(*spot)
    expect(page.locator(".summary")).to_have_count(0)
    context.close()
