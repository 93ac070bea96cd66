"""A sitting gone through by clicking."""

from __future__ import annotations

import json
from collections.abc import Iterator

from playwright.sync_api import Page

from builder.model.record import Sitting

MOMENT_MS = 600  # a mark shows for half a second, and so long a new word takes none


def until(page: Page, expression: str) -> None:
    """Wait until it is true in the page, whose policy forbids the driver's own way of waiting."""
    for _ in range(100):
        if page.evaluate(expression):
            return
        page.wait_for_timeout(50)
    raise AssertionError(expression)


def press(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).click()


def kept(page: Page) -> list[Sitting]:
    """The practice record as localStorage holds it."""
    texts: list[str] = page.evaluate(
        "Object.entries(localStorage).filter(([key]) => key.includes(':sitting:')).map(e => e[1])"
    )
    return [Sitting.model_validate(json.loads(text)) for text in texts]


def by_hand(page: Page, site: str) -> None:
    """On the pages that are opened from here on no word plays by itself."""
    settings = f"localStorage.setItem('practice:{site}:settings', '{{\"paced\": false}}')"
    page.add_init_script(settings)


def skip_time(page: Page) -> None:
    """From here on the page's clock stands; `mark` moves it on."""
    page.clock.install()
    page.clock.pause_at((page.evaluate("Date.now()") + MOMENT_MS) / 1000)


def mark(page: Page, kind: str) -> None:
    """Mark a try, without a model where one was offered, and come to what is next."""
    page.locator(".marks").wait_for()
    decline = page.locator("[data-key=decline]")
    if decline.count():
        decline.click()
    page.clock.run_for(MOMENT_MS)
    page.locator(f"[data-key={kind}]").click()
    page.clock.run_for(MOMENT_MS)
    if kind == "missed":
        page.locator(".task [data-key=go-on]").click()


def practise(page: Page, marks: Iterator[str]) -> int:
    """Mark try after try until the summary is there; how many were marked."""
    tries = 0
    key = page.locator("[data-key=clear], [data-key=go-on], .summary").first
    while (now := key.get_attribute("data-key")) is not None:  # the summary has none
        if now == "go-on":  # a round is done, or it is time for a breath
            key.click()
        else:
            mark(page, next(marks))
            tries += 1
    return tries
