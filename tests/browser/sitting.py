"""A sitting gone through by clicking."""

from __future__ import annotations

from collections.abc import Iterator

from playwright.sync_api import Page


def practise(page: Page, marks: Iterator[str]) -> int:
    """Mark try after try until the summary is there; how many were marked."""
    tries = 0
    key = page.locator("[data-key=clear], [data-key=go-on], .summary").first
    while (now := key.get_attribute("data-key")) is not None:  # the summary has none
        if now == "go-on":  # a round is done, or it is time for a breath
            key.click()
        else:
            page.locator(f"[data-key={next(marks)}]").click()
            page.locator("[data-key=next]").click()
            tries += 1
    return tries
