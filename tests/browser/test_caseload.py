"""The page of the caseload: found by typing, sound for axe-core, under its own policy."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from builder.caseload.page import caseload_page
from builder.caseload.rows import rows
from tests.browser.axe import found
from tests.browser.conftest import LYING, watch
from tests.support.caseload import TODAY, client

pytestmark = pytest.mark.browser


def test_the_search_box_finds_lines(browser: Browser, tmp_path: Path, axe: str) -> None:
    everyone = [
        client(steps=("words",), proof=str(tmp_path / "index.html")),
        client("wren-11", sounds=("s",), steps=("two words",), blanks=2),
        client("lark-12", visit=None, trouble="lark-12.yaml:3:1: `current` is missing."),
    ]
    file = tmp_path / "caseload.html"
    file.write_text(caseload_page(rows(everyone, TODAY), TODAY), "utf-8")
    context = browser.new_context(viewport=LYING)
    watched = watch(context, "")
    page = watched.page
    page.goto(file.as_uri())
    shown, box = page.locator("tbody tr:visible"), page.get_by_label("Search")
    expect(shown).to_have_count(3)
    assert found(page, axe) == []
    page.set_viewport_size({"width": 1100, "height": 700})
    fits = "one => one.scrollWidth <= one.clientWidth"
    assert page.locator(".wide").evaluate(fits), "its last column is in view on a small laptop"
    box.fill("WORDS fill-in")
    expect(shown).to_have_count(1)
    expect(shown).to_contain_text("wren-11")
    expect(page.get_by_role("status")).to_have_text("1 of 3 shown")
    box.fill("")
    page.get_by_label("Only where something waits").check()
    expect(shown).to_have_count(2)
    assert watched.errors == []
    context.close()
