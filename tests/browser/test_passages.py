"""Pages past sentences in Chromium, at the sizes of tablets and phones, in light and dark."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.browser.axe import found
from tests.browser.conftest import serving, watch
from tests.support.building import built_once
from tests.support.past_sentences import heron

pytestmark = pytest.mark.browser
NARROW, WIDE = (360, 560), (1180, 746)
SIZES = (NARROW, WIDE, (820, 1106), (390, 664), (844, 340))
PAGES = ("s-at-the-sea/", "s-the-picnic/", "s-dinner/", "print/", "")


@pytest.fixture(scope="module")
def base(run_folder: Path, stock: Path) -> Iterator[str]:
    """The address of a site past sentences."""
    with serving(built_once(heron(), run_folder / "past", stock)) as address:
        yield address


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_pages_fit_every_size(
    browser: Browser, base: str, axe: str, width: int, height: int
) -> None:
    """axe-core looks at the narrowest and the widest: between them the same is laid out."""
    context = browser.new_context(viewport={"width": width, "height": height})
    watched = watch(context, base)
    for path in PAGES:
        page = watched.open(path)
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), path
        if (width, height) in (NARROW, WIDE):
            assert found(page, axe) == [], path
        assert watched.errors == [], path
    context.close()


def test_targets_are_told_without_colour_and_the_text_is_large(browser: Browser, base: str) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 560})
    page = watch(context, base).open("s-at-the-sea/")
    target = page.locator(".passage .target").first
    style = target.evaluate(
        "e => [getComputedStyle(e).textDecorationLine, getComputedStyle(e).fontWeight]"
    )
    assert style == ["underline", "700"]
    size = page.locator(".passage p").first.evaluate(
        "e => parseFloat(getComputedStyle(e).fontSize)"
    )
    assert size >= 20  # CSS px; 12 pt of print is 16 px, and a text to read aloud is larger
    context.close()
