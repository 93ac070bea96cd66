"""What a family's first visit costs on a slow connection."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from tests.browser.conftest import PHONE, watch
from tests.support.compressed import Host
from tests.support.demos import DEMOS, Demos
from tests.support.running import running

FIRST_PAGE = 90 * 1024  # bytes, with gzip and headers: at 1.6 Mbit/s less than half a second


@pytest.mark.parametrize("code", DEMOS)
def test_the_first_page_is_light_with_all_it_loads(
    browser: Browser, demos: Demos, code: str
) -> None:
    with running(Host(demos.folder)) as host:
        context = browser.new_context(viewport=PHONE)
        page = watch(context, f"{host.base}{demos.plans[code].slug}/").open("")
        page.mouse.wheel(0, 5000)  # what waits to be scrolled to counts as well
        page.wait_for_load_state("networkidle")
        context.close()
    assert any(path.endswith(".woff2") for path in host.sent)
    heaviest = host.sent.most_common(4)
    print(f"{code}: {host.sent.total() / 1024:.1f} KiB in {len(host.sent)} files, {heaviest}")
    assert host.sent.total() <= FIRST_PAGE, heaviest


def test_signs_of_ipa_are_asked_for_only_where_one_is_shown(browser: Browser, demos: Demos) -> None:
    with running(Host(demos.folder)) as host:
        page = browser.new_page()
        for path, wanted in (("", False), ("sound/", True)):  # /ʃ/
            host.sent.clear()
            page.goto(f"{host.base}{demos.plans['badger-03'].slug}/{path}")
            page.wait_for_load_state("networkidle")
            assert any("phonetic" in file for file in host.sent) == wanted, path
        page.close()
