"""What a family's first visit costs on a slow connection."""

from __future__ import annotations

from collections import Counter

import pytest
from playwright.sync_api import Browser

from builder.site.generate import lightened
from builder.text.templates import folder
from tests.browser.conftest import PHONE
from tests.support.compressed import Host
from tests.support.demos import DEMOS, Demos
from tests.support.modules import imported
from tests.support.running import running

FIRST_PAGE = 80 * 1024  # bytes, with gzip and headers: at 1.6 Mbit/s 0.4 seconds
# With what leads through practice, which comes when the page has nothing else to do.
WHOLE = 108 * 1024
# What a browser has read of a style sheet.
RULES = """text => {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(text);
  return [...sheet.cssRules].map(rule => rule.cssText).join("\\n");
}"""


@pytest.mark.parametrize("code", DEMOS)
def test_the_first_page_is_light_with_all_it_loads(
    browser: Browser, demos: Demos, code: str
) -> None:
    page, whole = (sent(browser, demos, code, leads=leads) for leads in (False, True))
    print(f"{code}: {page.total() / 1024:.1f} KiB, with practice {whole.total() / 1024:.1f} KiB")
    assert any(path.endswith(".woff2") for path in page)
    assert not any(path.endswith("/lead.js") for path in page)
    assert page.total() <= FIRST_PAGE, page.most_common(4)
    assert any(path.endswith("/lead.js") for path in whole)
    assert whole.total() <= WHOLE, whole.most_common(4)


def sent(browser: Browser, demos: Demos, code: str, *, leads: bool) -> Counter[str]:
    """Bytes by path of a first visit; `leads`: what leads through practice comes as well."""
    with running(Host(demos.folder)) as host:
        context = browser.new_context(viewport=PHONE)
        if not leads:
            for name in imported("lead") - imported("practice-rounds"):
                context.route(f"**/js/{name}.js", lambda route: route.abort())
        page = context.new_page()
        page.goto(f"{host.base}{demos.plans[code].slug}/")
        page.mouse.wheel(0, 5000)  # what waits to be scrolled to counts as well
        page.wait_for_load_state("networkidle")
        context.close()
    return host.sent


def test_signs_of_ipa_are_asked_for_only_where_one_is_shown(browser: Browser, demos: Demos) -> None:
    with running(Host(demos.folder)) as host:
        page = browser.new_page()
        for path, wanted in (("", False), ("sound/", True)):  # /ʃ/
            host.sent.clear()
            page.goto(f"{host.base}{demos.plans['badger-03'].slug}/{path}")
            page.wait_for_load_state("networkidle")
            assert any("phonetic" in file for file in host.sent) == wanted, path
        page.close()


def test_every_style_sheet_without_its_comments_says_the_same(browser: Browser) -> None:
    page = browser.new_page()
    for file in (folder() / "theme" / "assets").glob("*.css"):
        text = file.read_text("utf-8")
        before, after = page.evaluate(RULES, text), page.evaluate(RULES, lightened(text))
        assert before
        assert before == after, file.name
    page.close()
