"""The check of a loudspeaker, by keyboard and by tap: what it says, and that it keeps nothing."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.axe import found
from tests.browser.conftest import Watched

pytestmark = pytest.mark.browser
LOW_DRAWS = "Math.random = () => 0.1"  # each of the eight is an s


def answer(page: Page, name: str) -> None:
    """Hear a sound, then say which one it was."""
    button = page.get_by_role("button", name=name)
    expect(button).to_be_disabled()  # nothing was heard yet
    page.keyboard.press("Enter")  # the focus is on "Hear it"
    expect(button).to_be_enabled()
    button.click()


def test_a_loudspeaker_is_told_from_one_that_hides_the_sound(watched: Watched, axe: str) -> None:
    page = watched.page
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.add_init_script(LOW_DRAWS)
    watched.open("sound/")
    check = page.get_by_role("region", name="Can this device play an “s”?")
    status = check.get_by_role("status")
    expect(check.get_by_role("button")).to_have_text("Try it")
    assert not [url for url in asked if url.endswith(".mp3")]  # clips come when they are needed
    check.get_by_role("button", name="Try it").focus()
    page.keyboard.press("Enter")
    expect(check.get_by_role("button", name="Hear it")).to_be_focused()
    for number in range(1, 4):
        expect(status).to_have_text(f"Sound {number} of 8")
        answer(page, "sh, as in shoe" if number < 3 else "I can’t tell")
    expect(status).to_contain_text("This loudspeaker hides the sound. 3 of 3 answers were not")
    expect(status).to_contain_text("Use headphones or another device")
    assert found(page, axe) == []
    page.get_by_role("button", name="Try it again").click()
    for _ in range(8):
        answer(page, "s, as in sun")
    expect(status).to_contain_text("8 of 8 answers were right. Just now")
    clips = {url.rpartition("/")[2] for url in asked if url.endswith(".mp3")}
    assert clips == {"s-long.mp3", "sh-long.mp3"}
    assert page.evaluate("indexedDB.databases()") == []
    assert page.evaluate("localStorage.length + sessionStorage.length") == 0
    assert page.evaluate("document.cookie") == ""
    assert watched.errors == []
    page.route("**/*.mp3", lambda route: route.abort())
    watched.open("helper/")
    page.get_by_role("button", name="Try it").click()
    page.get_by_role("button", name="Hear it").click()
    expect(page.get_by_role("status")).to_contain_text("No sound came.")
    expect(page.get_by_role("button", name="I can’t tell")).to_be_disabled()
