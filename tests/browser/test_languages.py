"""Pages in three languages, one of them longer than any: nothing is cut, a sitting goes through,
and the tablet keeps to what was chosen."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from itertools import repeat
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, ViewportSize, expect

from tests.browser.axe import found
from tests.browser.conftest import Watched, serving, watch
from tests.browser.sitting import kept, mark, skip_time
from tests.support import plans, pseudo
from tests.support.building import built_once, pages_of
from tests.support.past_sentences import heron

pytestmark = pytest.mark.browser
PROGRAM = plans.program_k()
# Steps past sentences have pages here; a talk has its part in the sitting.
TOLD = [
    dataclasses.replace(s, current=s.level == "talk")
    for s in heron().programs[0].steps
    if s.passage
]
PLAN = dataclasses.replace(
    plans.plan(dataclasses.replace(PROGRAM, steps=(*PROGRAM.steps, *TOLD))),
    interface=("en", "es", pseudo.NAME),
    path=True,
)
SIZES: tuple[ViewportSize, ...] = (
    {"width": 360, "height": 560},
    {"width": 390, "height": 664},
    {"width": 844, "height": 340},
)

CUT = """() => {
  const kinds = "h1, h2, h3, p, a, button, label, li, dt, dd, td, th, summary";
  const parts = [...document.querySelectorAll(kinds)]
    .filter(e => e.checkVisibility() && !e.closest(".visually-hidden, .skip"));
  const hides = e => ["hidden", "clip"].includes(getComputedStyle(e).overflowX);
  const cut = parts.filter(e => hides(e) && e.scrollWidth > e.clientWidth + 1);
  const out = parts.filter(e => e.getBoundingClientRect().right > innerWidth + 1);
  const wide = document.documentElement.scrollWidth > innerWidth + 1 ? ["the page"] : [];
  return [...wide, ...[...cut, ...out].map(e => e.textContent.trim())];
}"""
# Text in the language of the page with a vowel that the pseudo-language never writes so.
UNTOLD = """() => {
  const rounds = document.querySelector("practice-rounds");
  const walker = document.createTreeWalker(rounds, NodeFilter.SHOW_TEXT);
  const left = [];
  while (walker.nextNode()) {
    const { data, parentElement } = walker.currentNode;
    const { lang } = parentElement.closest("[lang]");
    if (lang.startsWith("zxx") && /[aeiou]/.test(data)) left.push(data);
  }
  return left;
}"""


@pytest.fixture(scope="module")
def base(run_folder: Path, stock: Path) -> Iterator[str]:
    with pseudo.spoken(run_folder / "wording"):
        site = built_once(PLAN, run_folder / "languages", stock)
    with serving(site) as address:
        yield address


@pytest.fixture
def second(browser: Browser, base: str) -> Iterator[Watched]:
    context = browser.new_context(viewport=SIZES[0])
    yield watch(context, f"{base}{pseudo.NAME}/")
    context.close()


def all_fits(page: Page) -> None:
    """At each size nothing is cut, and nothing is wider than the screen."""
    for size in SIZES:
        page.set_viewport_size(size)
        assert page.evaluate(CUT) == [], size


@pytest.mark.parametrize("language", ["es", pseudo.NAME])
def test_no_page_is_cut(
    browser: Browser, base: str, axe: str, language: str, run_folder: Path, stock: Path
) -> None:
    context = browser.new_context(viewport=SIZES[0])
    watched = watch(context, f"{base}{language}/")
    for path in pages_of(built_once(PLAN, run_folder / "languages", stock) / language):
        if "k-old-step" in path:
            continue
        page = watched.open(path)
        assert page.evaluate("document.documentElement.lang") == f"{language}-US"
        all_fits(page)
        if path in ("", "about/"):
            assert found(page, axe) == []
    assert watched.errors == []
    context.close()


def test_a_sitting_in_the_second_language_is_kept_as_in_the_first(second: Watched) -> None:
    page = second.open("")
    start = page.locator("[data-key=start]")
    start.wait_for()
    assert page.evaluate(UNTOLD) == []
    start.click()
    page.locator(".task").wait_for()
    skip_time(page)
    talk = ", ".join(f".told [data-key={name}]" for name in ("now", "over", "yes", "next"))
    key = page.locator(f"[data-key=clear], [data-key=go-on], {talk}, .summary").first
    marks = repeat("clear")
    states, seen = 0, set()
    while (now := key.get_attribute("data-key")) is not None:
        if states < 8 or now not in ("clear", "go-on"):
            all_fits(page)
            assert page.evaluate(UNTOLD) == []
        states += 1
        seen.add(now)
        if now != "clear":
            key.click()
        else:
            mark(page, next(marks))
    all_fits(page)
    for size in SIZES:
        page.set_viewport_size(size)
        expect(page.locator(".summary > .choices .big")).to_be_in_viewport(ratio=1)
    assert page.evaluate(UNTOLD) == []
    assert {"clear", "over", "yes"} <= seen, "words and a talk"
    (sitting,) = kept(page)
    assert sitting.site == PLAN.slug
    assert sitting.end == "done"
    assert second.errors == []


def test_the_language_that_was_chosen_comes_first(browser: Browser, base: str) -> None:
    context = browser.new_context(viewport=SIZES[0])
    page = watch(context, base).open("helper/")
    page.locator(f".tongues a[lang={pseudo.NAME}]").click()
    page.wait_for_url(f"{base}{pseudo.NAME}/helper/")
    page.goto(base)
    page.wait_for_url(f"{base}{pseudo.NAME}/")
    page.locator(".tongues a[lang=en]").click()
    page.wait_for_url(base)
    page.goto(base)
    expect(page.locator(".tongues a")).to_have_count(2)
    assert page.url == base
    page.goto(f"{base}es/")  # the code of a Spanish sheet
    expect(page.locator(".tongues a[lang=en]")).to_be_visible()
    page.wait_for_load_state()
    assert page.url == f"{base}es/"
    context.close()
