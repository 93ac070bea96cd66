"""The page Print on paper, and the sheet that it opens."""

from __future__ import annotations

import re
from typing import Any

import pypdfium2
import pytest
from playwright.sync_api import Browser

from tests.browser.conftest import TABLET, watch
from tests.support.demos import DEMOS, Demos

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("code", DEMOS)
def test_the_page_prints_on_one_side_and_leads_to_the_sheet(
    browser: Browser, demos: Demos, code: str
) -> None:
    library: Any = pypdfium2
    context = browser.new_context(viewport=TABLET)
    watched = watch(context, f"{demos.base}{demos.plans[code].slug}/")
    page = watched.open("print/")
    line = page.locator(".for .line").bounding_box()
    assert line
    assert line["width"] >= 9 * 16, "room to write a name"
    for paper in ("Letter", "A4"):
        assert len(library.PdfDocument(page.pdf(format=paper))) == 1, paper
    href = page.locator("a[type='application/pdf']").evaluate("link => link.href")
    answer = context.request.get(href)
    assert answer.headers["content-type"] == "application/pdf"
    with library.PdfDocument(answer.body()) as sheet:
        assert len(sheet) == 2
        text = " ".join(p.get_textpage().get_text_bounded() for p in sheet)
    assert code in text
    assert not re.search(r"\b20\d\d\b|\b(Jan|Feb|Nov|Dec)\w* \d", text), "no date is published"
    context.close()
