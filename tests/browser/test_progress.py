"""The page of progress: sound for axe-core in light and dark, under its own policy, on any screen;
its sentences are copied."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from builder.progress.gather import progress_of
from builder.progress.page import progress_page
from builder.progress.texts import copied
from tests.browser.axe import found
from tests.browser.conftest import LYING, watch
from tests.support.invented import OTTER, TODAY

pytestmark = pytest.mark.browser
NARROW = 360  # CSS pixels


def test_the_page_is_sound_and_its_sentences_are_copied(
    browser: Browser, tmp_path: Path, axe: str, run_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("MPLCONFIGDIR", str(run_folder / "matplotlib"))
    progress = progress_of(OTTER.client, OTTER.log(), TODAY)
    assert progress
    file = tmp_path / "otter-12.html"
    file.write_text(progress_page(progress), "utf-8")
    context = browser.new_context(viewport=LYING, permissions=["clipboard-read", "clipboard-write"])
    watched = watch(context, "")
    page = watched.page
    page.goto(file.as_uri())
    for details in page.locator("summary").all():
        details.click()
    assert found(page, axe) == []
    expect(
        page.get_by_role("img", name="Clear-rate of /s/ medial and final by week")
    ).to_be_visible()
    page.get_by_role("button", name="Copy").click()
    expect(page.get_by_role("status")).to_have_text("Copied.")
    text = page.evaluate("navigator.clipboard.readText()")
    assert [line for line in text.splitlines() if line] == list(copied(progress))
    page.set_viewport_size({"width": NARROW, "height": 560})
    assert page.evaluate("document.documentElement.scrollWidth") <= NARROW
    assert watched.errors == []
    assert watched.hosts == {""}
    context.close()
