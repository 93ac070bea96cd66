"""Under the end of a sitting: what is offered, and what becomes of the answer."""

from __future__ import annotations

import json

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.axe import found
from tests.browser.conftest import TABLET, Watched, watch
from tests.browser.sitting import mark, press, skip_time
from tests.browser.test_visit import days_ago
from tests.support import plans

pytestmark = pytest.mark.browser
# A browser that can install asks by this event (https://wicg.github.io/manifest-incubations/).
CAN_INSTALL = """addEventListener("load", () => {
  const event = new Event("beforeinstallprompt", { cancelable: true });
  event.prompt = async () => { window.asked = true; };
  event.userChoice = Promise.resolve({ outcome: "accepted" });
  window.ours = !dispatchEvent(event);
});"""
BY_HAND = "Object.defineProperty(Navigator.prototype, 'standalone', { get: () => false });"


def practiced(browser: Browser, base: str, *scripts: str, before: int = 3) -> Watched:
    """The end of a sitting on a tablet that has so many finished ones from before."""
    context = browser.new_context(viewport=TABLET)
    sittings = [days_ago(day, tries=1) | {"end": "done"} for day in range(9, 9 - before, -1)]
    kept = {f"practice:{plans.SLUG}:sitting:{one['id']}": json.dumps(one) for one in sittings}
    keep = f"if (!localStorage.length) Object.assign(localStorage, {json.dumps(kept)});"
    for script in (keep, *scripts):
        context.add_init_script(script)
    watched = watch(context, base)
    one_try(watched)
    return watched


def one_try(watched: Watched) -> None:
    """Begin a step, mark once, stop."""
    page = watched.open("k-words/")
    button = page.locator("[data-key=resume], [data-key=start]").first
    button.click()
    skip_time(page)
    mark(page, "clear")
    press(page, "Stop")
    press(page, "Enough for today")


def refused(page: Page) -> object:
    return page.evaluate(f"JSON.parse(localStorage['practice:{plans.SLUG}:settings']).refused")


def test_the_marks_are_kept_for_good_where_the_family_says_so_and_asked_once_a_day(
    browser: Browser, base: str, axe: str
) -> None:
    watched = practiced(browser, base, "navigator.storage.persist = async () => true;")
    page = watched.page
    expect(page.locator(".offer h3")).to_have_text("Keep the marks for good?")
    page.clock.resume()  # axe-core waits by it
    assert found(page, axe) == []
    press(page, "Keep them")
    expect(page.locator(".offer")).to_have_text("This device keeps the marks for good.")
    one_try(watched)
    expect(page.locator(".summary")).to_be_visible()
    expect(page.locator(".offer")).to_have_count(0)
    assert watched.errors == []
    page.context.close()


def test_the_browsers_own_question_comes_at_the_end_and_not_before(
    browser: Browser, base: str, axe: str
) -> None:
    page = practiced(browser, base, CAN_INSTALL).page
    assert page.evaluate("[window.ours, window.asked ?? false]") == [True, False]
    page.clock.resume()
    assert found(page, axe) == []
    press(page, "Put it there")
    expect(page.locator(".offer")).to_have_text("It is on its way to the home screen.")
    assert page.evaluate("window.asked")
    page.context.close()


def test_where_the_family_must_do_it_by_hand_it_is_told_to_send_first_and_may_say_never(
    browser: Browser, base: str, axe: str
) -> None:
    page = practiced(browser, base, BY_HAND).page
    expect(page.locator(".offer")).to_contain_text("Add to Home Screen")
    expect(page.locator(".offer a")).to_have_attribute("href", "../visit/")
    page.clock.resume()
    assert found(page, axe) == []
    press(page, "Don’t ask again")
    expect(page.locator(".offer")).to_have_count(0)
    assert refused(page) == ["install"]
    page.context.close()


def test_before_the_third_sitting_nothing_is_offered(browser: Browser, base: str) -> None:
    page = practiced(browser, base, before=2).page
    expect(page.locator(".summary [data-key=home]")).to_be_visible()
    page.clock.run_for(5000)
    expect(page.locator(".offer")).to_have_count(0)
    page.context.close()
