"""A tap is taken whatever the screen does meanwhile: a finger stays down for about a tenth of a
second, and a screen may be drawn anew under it."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Watched
from tests.browser.sitting import MOMENT_MS, skip_time

pytestmark = pytest.mark.browser


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
