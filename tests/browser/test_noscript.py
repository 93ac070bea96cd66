"""Without JavaScript a step can still be practiced, from the page and with paper."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import TABLET, watch

pytestmark = pytest.mark.browser


@pytest.fixture
def plain(browser: Browser, base: str) -> Iterator[Page]:
    context = browser.new_context(viewport=TABLET, java_script_enabled=False)
    yield watch(context, base).open("sh-final-words/")
    context.close()


def test_words_pictures_and_sound_are_there(plain: Page) -> None:
    expect(plain.locator("noscript p")).to_be_visible()
    expect(plain.locator("li", has_text="fish").locator("img")).to_be_visible()
    expect(plain.get_by_text("wish", exact=True)).to_be_visible()
    long = plain.locator("audio[aria-label='Hear “fish” with a long sound']")
    expect(long).to_be_visible()
    expect(long).to_have_attribute("controls", "")
    assert plain.request.get(f"{plain.url}{long.get_attribute('src')}").status == 200
    expect(plain.get_by_role("button")).to_have_count(0)


def test_the_rounds_are_told_in_words(plain: Page) -> None:
    rounds = plain.get_by_role("region", name="What you will do").get_by_role("listitem")
    expect(rounds).to_have_text(
        [
            "Hear it with a long sound. Say it the same way at once.",
            "Say it without hearing it first.",
        ]
    )


def test_today_leads_to_the_step(plain: Page) -> None:
    plain.get_by_role("link", name="Today", exact=True).click()
    expect(plain.locator("noscript p")).to_be_visible()
    plain.get_by_role("link", name="k: words").click()
    expect(plain.get_by_role("heading", level=1)).to_contain_text("words")
