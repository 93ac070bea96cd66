"""Every page: nothing for axe-core to find, no word in the console, no other host asked."""

from __future__ import annotations

import re
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page, expect

from builder.site.root import write_root
from tests.browser.axe import found
from tests.browser.conftest import Watched, watch
from tests.browser.sitting import MOMENT_MS, mark, until
from tests.support.building import pages_of
from tests.support.demos import Demos
from tests.support.places import ROOT

pytestmark = pytest.mark.browser


def test_every_page_is_sound(watched: Watched, pages: tuple[str, ...], axe: str) -> None:
    page = watched.page
    for path in pages:
        watched.open(path)
        for details in page.locator("summary").all():
            details.click()
        assert found(page, axe) == [], path
        assert watched.errors == [], path
    assert watched.hosts == {urlsplit(watched.base).netloc}


def test_colours_are_all_that_changes_in_dark() -> None:
    """What `found` relies on: custom properties get other values, and no script asks."""
    blocks = []
    for file in (ROOT / "site_templates").rglob("*"):
        text = file.read_text("utf-8") if file.suffix in (".css", ".html", ".js") else ""
        blocks += re.findall(r"@media \(prefers-color-scheme.*?\) \{(.*?)\n\}", text, re.DOTALL)
        assert file.suffix != ".js" or "prefers-color-scheme" not in text
    assert len(blocks) == 2
    for block in blocks:
        (values,) = re.fullmatch(r"\s*:root \{([^{}]*)\}", block).groups()  # type: ignore[union-attr]
        assert all(value.strip().startswith("--") for value in values.split(";") if value.strip())


def test_every_state_of_the_rounds_is_sound(watched: Watched, axe: str) -> None:
    page = watched.open("sh-final-words/")

    def press(name: str) -> None:
        page.get_by_role("button", name=name, exact=True).click()

    states = {"start": found(page, axe)}
    press("Start")
    states["ask"] = found(page, axe)
    press("Hear it")
    expect(page.locator(".held")).to_have_text("sh")
    expect(page.locator(".marks.sleeping")).to_have_count(0)
    page.clock.install()  # not paused: axe-core waits by it
    press("missed")
    page.clock.run_for(MOMENT_MS)
    states["missed"] = found(page, axe)
    press("Go on")
    states["next"] = found(page, axe)
    press("Change the mark of “fish”")
    states["changed"] = found(page, axe)
    press("Keep it")
    mark(page, "missed")
    states["hard stretch"] = found(page, axe)
    press("Go on")
    for _ in range(2):
        mark(page, "missed")
    expect(page.get_by_role("heading", name="Time for something easier")).to_be_visible()
    states["too hard"] = found(page, axe)
    press("Stay with this")
    states["helped"] = found(page, axe)
    mark(page, "clear")
    states["breath"] = found(page, axe)
    press("Go on")
    for _ in range(2):
        mark(page, "clear")
    states["round"] = found(page, axe)
    press("Next round")
    press("Stop")
    states["stop"] = found(page, axe)
    press("Too hard: go to “the sound”")
    states["easier"] = found(page, axe)
    press("Stop")
    press("Too hard today")
    states["last word"] = found(page, axe)
    mark(page, "clear")
    page.locator("summary").click()
    states["summary"] = found(page, axe)
    assert {name: list_ for name, list_ in states.items() if list_} == {}
    assert watched.errors == []
    assert watched.hosts == {urlsplit(watched.base).netloc}


def test_the_way_into_a_sitting_is_above_the_fold(watched: Watched) -> None:
    # What is left of common screens when a browser's bars have taken their share.
    for width, height in ((360, 560), (390, 664), (844, 340), (820, 1106), (1180, 746)):
        watched.page.set_viewport_size({"width": width, "height": height})
        start = watched.open("k-words/").get_by_role("button", name="Start", exact=True)
        expect(start).to_be_in_viewport(ratio=1)


def test_a_clip_is_one_button(watched: Watched) -> None:
    watched.page.add_init_script(
        """const start = AudioBufferSourceNode.prototype.start;
        AudioBufferSourceNode.prototype.start = function (...when) {
            window.sounded = true; return start.apply(this, when); };"""
    )
    page = watched.open("sound/")
    expect(page.locator("audio")).to_have_count(0)
    page.get_by_role("button", name="Hear the sound sh alone").click()
    until(page, "window.sounded")
    assert watched.errors == []


def test_every_page_reflows_at_320_px(browser: Browser, base: str, pages: tuple[str, ...]) -> None:
    context = browser.new_context(viewport={"width": 320, "height": 640})
    watched = watch(context, base)
    for path in pages:
        assert watched.open(path).evaluate("document.documentElement.scrollWidth") <= 320, path
    context.close()


def test_every_page_reflows_with_letters_twice_as_large(browser: Browser, demos: Demos) -> None:
    """WCAG 2.2, 1.4.4 Resize Text, on a small telephone."""
    context = browser.new_context(viewport={"width": 360, "height": 640})
    watched = watch(context, demos.base)
    for plan in demos.plans.values():
        for path in pages_of(demos.folder / plan.slug):
            page = watched.open(f"{plan.slug}/{path}")
            page.locator("html").evaluate("e => { e.style.fontSize = '225%'; }")
            wide = page.evaluate("document.documentElement.scrollWidth")
            assert wide <= 360, (plan.client, path)
    context.close()


def test_every_page_says_who_it_is_and_whom_to_ask(
    watched: Watched, pages: tuple[str, ...]
) -> None:
    for path in pages:
        says_who_it_is(watched.open(path))


def says_who_it_is(page: Page) -> None:
    assert page.title().endswith(" · otter-07")
    assert page.locator("html").get_attribute("lang") == "en-US"
    for name, content in (("robots", "noindex,nofollow"), ("referrer", "no-referrer")):
        expect(page.locator(f"meta[name={name}]")).to_have_attribute("content", content)
    assert page.locator("meta[name=description]").get_attribute("content")
    foot = page.get_by_role("contentinfo")
    expect(foot).to_contain_text("Riverside Speech Clinic")
    expect(foot.get_by_role("link", name="+1 (555) 010 7788")).to_have_attribute(
        "href", "tel:+15550107788"
    )
    expect(page.get_by_role("link", name="Today’s practice, otter-07")).to_be_visible()


def test_the_menu_shows_where_one_is(watched: Watched) -> None:
    page = watched.open("helper/")
    menu = page.get_by_role("navigation")
    expect(menu.locator("[aria-current=page]")).to_have_text("Helper")
    menu.get_by_role("link", name="Today").click()
    expect(menu.locator("[aria-current=page]")).to_have_text("Today")
    page.emulate_media(forced_colors="active")  # a transparent line is seen there, too
    lines: list[str] = menu.locator("a").evaluate_all(
        "links => links.map(link => getComputedStyle(link).borderBottomColor)"
    )
    assert lines.count(lines[0]) == 1


def test_a_step_that_is_gone_leads_to_today(watched: Watched) -> None:
    watched.page.goto(watched.base + "k-old-step/")
    watched.page.wait_for_url(watched.base)
    expect(watched.page.get_by_role("heading", name="Today’s practice")).to_be_visible()


def test_nothing_plays_by_itself(watched: Watched) -> None:
    page = watched.open("sh-final-words/")
    clips = page.evaluate("performance.getEntriesByType('resource').map(e => e.name)")
    assert not [name for name in clips if name.endswith(".mp3")]


@pytest.mark.parametrize("name", ["404.html", "index.html"])
def test_the_pages_at_the_root_are_sound(
    browser: Browser, axe: str, name: str, tmp_path: Path
) -> None:
    write_root(tmp_path, ["en", "es"])
    page = browser.new_page()
    page.set_content((tmp_path / name).read_text("utf-8"))
    assert found(page, axe) == []
    page.close()
