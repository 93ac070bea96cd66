"""The page for the visit: two tries by clicking, shown to the therapist and handed over in every
way; Python reads what the tablet holds, field by field."""

from __future__ import annotations

import dataclasses
import datetime
import io
import json
import random
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Browser, Page, expect

from builder.model.record import MARKS
from builder.practice.handed_over import read_codes, read_file, read_text
from tests.browser.axe import found
from tests.browser.conftest import PHONE, Watched, serving, watch
from tests.browser.sitting import mark, press, skip_time, until
from tests.support import plans
from tests.support.building import built_once
from tests.support.places import TESTS

pytestmark = pytest.mark.browser
EXAMPLE: dict[str, Any] = json.loads((TESTS / "js" / "sitting.json").read_text("utf-8"))
SHARES = """navigator.canShare = ({ files }) => files.every((file) => file.type === "text/plain");
navigator.share = async ({ files }) => { window.shared = await files[0].text(); };"""
NO_CLIPBOARD = "Object.defineProperty(Navigator.prototype, 'clipboard', { get: () => undefined });"
KEEPS_NOTHING = """for (const name of ["localStorage", "indexedDB"])
  Object.defineProperty(window, name, { get: () => { throw new Error("forbidden"); } });"""
ALL = """async () => {
  const store = await import(new URL("../assets/js/store.js", location.href));
  return store.makeStore(store.browserApis(window), SITE).all();
}""".replace("SITE", json.dumps(plans.SLUG))


@pytest.fixture(scope="module")
def base(run_folder: Path, stock: Path) -> Iterator[str]:
    """A site of a clinic that takes a record in every way."""
    plan = plans.plan()
    clinic = plan.clinic.model_copy(update={"records": ("share", "download", "copy", "code")})
    plan = dataclasses.replace(plan, clinic=clinic)
    with serving(built_once(plan, run_folder / "visit", stock)) as address:
        yield address


@pytest.fixture
def phone(browser: Browser, base: str) -> Iterator[Callable[..., Watched]]:
    """A fresh telephone, with scripts that run before those of each page."""
    contexts = []

    def fresh(*scripts: str) -> Watched:
        context = browser.new_context(viewport=PHONE)
        context.grant_permissions(["clipboard-read", "clipboard-write"])
        for script in scripts:
            context.add_init_script(script)
        contexts.append(context)
        return watch(context, base)

    yield fresh
    for context in contexts:
        context.close()


def held(page: Page) -> list[dict[str, Any]]:
    """All that the tablet's own store holds."""
    sittings: list[dict[str, Any]] = page.evaluate(ALL)
    return sittings


def as_kept(read: tuple[Any, ...]) -> list[dict[str, Any]]:
    """What was read, as a tablet keeps it."""
    return [sitting.model_dump(mode="json") for sitting in read]


def keep(watched: Watched, sittings: list[dict[str, Any]]) -> None:
    """Lay sittings into the tablet's memory as its own modules do."""
    watched.open("about/").evaluate(
        "all => all.forEach((s) => localStorage.setItem(`practice:${s.site}:sitting:${s.id}`,"
        " JSON.stringify(s)))",
        sittings,
    )


def days_ago(days: int, number: int = 0, tries: int = 30) -> dict[str, Any]:
    """A sitting of so many days ago."""
    start = datetime.datetime.now().astimezone() - datetime.timedelta(days=days)
    chance = random.Random(100 * days + number)
    trial = EXAMPLE["trials"][0]
    return EXAMPLE | {
        "id": f"{days:016x}{number:016x}",
        "start": start.isoformat(timespec="seconds"),
        "trials": [
            trial | {"mark": chance.choice(MARKS), "ms": 9000 * n + chance.randrange(5000)}
            for n in range(tries)
        ],
    }


def read_screen(page: Page) -> str:
    """What a camera reads of the code that is shown."""
    picture = Image.open(io.BytesIO(page.locator(".code-area svg").screenshot()))
    (code,) = zxingcpp.read_barcodes(picture)
    return str(code.text)


def test_two_tries_go_home_in_every_way(phone: Callable[..., Watched]) -> None:
    watched = phone(SHARES)
    page = watched.open("k-words/")
    press(page, "Start")
    skip_time(page)
    mark(page, "clear")
    mark(page, "missed")
    press(page, "Stop")
    press(page, "Enough for today")
    page.locator("summary").click()
    page.get_by_label("A few words for your therapist").fill("Tired today.\nPR1/ is no code.")
    until(page, "Object.values(localStorage).some((kept) => kept.includes('Tired'))")
    page.clock.resume()
    expect(page.get_by_role("link", name="Show at the visit")).to_have_attribute(
        "href", "../visit/"
    )
    page.goto(watched.base)
    loaded = page.evaluate("performance.getEntriesByType('resource').map((each) => each.name)")
    assert not [name for name in loaded if "visit" in name or "code" in name], (
        "today's page stays as small"
    )
    page.get_by_role("link", name="Show at the visit").click()
    expect(page.get_by_role("row", name="Tries")).to_contain_text("2")
    expect(page.locator(".visit-notes")).to_contain_text("Tired today.")
    before = held(page)
    (sitting,) = before
    assert [trial["mark"] for trial in sitting["trials"]] == ["clear", "missed"]

    press(page, "Copy it")
    expect(page.get_by_text("Copied.")).to_be_visible()
    copied = page.evaluate("navigator.clipboard.readText()")
    assert copied.startswith("Practice record of otter-07")
    with page.expect_download() as download:
        press(page, "Save it as a file")
    name = download.value.suggested_filename
    assert name.startswith("practice-otter-07-")
    assert name.endswith(".txt")
    file = download.value.path().read_bytes()
    press(page, "Share it")
    until(page, "window.shared")
    press(page, "Show it as codes")
    shown = read_screen(page)
    press(page, "Done")

    for read in (
        read_text(copied),
        read_file(file),
        read_text(page.evaluate("window.shared")),
        read_codes([shown]),
    ):
        assert as_kept(read) == before
    assert held(page) == before, "handing over deletes nothing"
    expect(page.get_by_text("Last handed on:")).to_be_visible()
    assert watched.errors == []


def test_a_fortnight_is_read_from_the_screen_code_by_code(
    phone: Callable[..., Watched],
) -> None:
    watched = phone()
    sittings = [days_ago(days) for days in (40, 30, *range(12, -1, -1))]
    keep(watched, sittings)
    page = watched.open("visit/")
    expect(page.get_by_role("button", name="Share it")).to_have_count(0)
    page.locator(".visit-table tbody tr").first.wait_for()
    rows = page.locator(".visit-table tbody tr").evaluate_all(
        "all => all.map((row) => row.offsetHeight)"
    )
    assert len(set(rows)) == 1, "no word is broken"
    press(page, "Show it as codes")

    def codes() -> list[str]:
        found_ = []
        for number in range(1, 13):
            status = page.locator(".code-place").inner_text()
            assert status.startswith(f"Code {number} of ")
            width = int((page.locator(".code-area svg").get_attribute("viewBox") or "").split()[2])
            assert width <= 17 + 4 * 15 + 2 * 4, "version 15 and its margin"
            found_.append(read_screen(page))
            if status == f"Code {number} of {number}":
                return found_
            press(page, "Next code")
        raise AssertionError

    recent = codes()
    assert len(recent) > 1
    assert as_kept(read_codes(recent[::-1])) == sittings[2:]
    press(page, "Everything")
    assert as_kept(read_codes(codes())) == sittings
    assert watched.errors == []


def test_where_nothing_is_of_late_the_codes_hold_all(phone: Callable[..., Watched]) -> None:
    watched = phone()
    old = [days_ago(30)]
    keep(watched, old)
    page = watched.open("visit/")
    press(page, "Show it as codes")
    assert as_kept(read_codes([read_screen(page)])) == old


def test_more_than_codes_can_hold_is_said(phone: Callable[..., Watched]) -> None:
    watched = phone()
    keep(watched, [days_ago(day, n, 60) for day in range(13) for n in range(3)])
    page = watched.open("visit/")
    press(page, "Show it as codes")
    expect(page.get_by_text("There is too much for codes.")).to_be_visible()


def test_every_state_of_the_page_is_sound(phone: Callable[..., Watched], axe: str) -> None:
    watched = phone(NO_CLIPBOARD)
    old = [days_ago(20) | {"note": "Went well."}, *(days_ago(n) for n in range(5, 0, -1))]
    keep(watched, [*old, days_ago(0) | {"end": "hard", "helper": "school"}])
    page = watched.open("visit/")
    expect(page.get_by_role("row", name="Ended too hard")).to_contain_text("1")
    page.locator("summary").click()
    states = {"figures": found(page, axe)}
    press(page, "Save it as a file")
    expect(page.get_by_text("Saved as a file.")).to_be_visible()
    press(page, "Copy it")
    expect(page.get_by_text("Saved as a file.")).to_have_count(0)
    text = page.get_by_label("Select all of this")
    expect(text).to_be_focused()
    assert as_kept(read_text(text.input_value())) == held(page)
    states["by hand"] = found(page, axe)
    press(page, "Show it as codes")
    states["codes"] = found(page, axe)
    press(page, "Close")
    assert {name: list_ for name, list_ in states.items() if list_} == {}
    assert watched.errors == []


def test_who_listens_on_this_device_is_remembered(phone: Callable[..., Watched]) -> None:
    page = phone().open("visit/")
    expect(page.get_by_text("Nothing is kept on this device yet.")).to_be_visible()
    expect(page.get_by_label("At home")).to_be_checked()
    page.get_by_label("At school").check()
    expect(page.get_by_text("Kept. It holds from the next practice on.")).to_be_visible()
    page.reload()
    expect(page.get_by_label("At school")).to_be_checked()


def test_a_browser_that_keeps_nothing_says_so(phone: Callable[..., Watched], axe: str) -> None:
    page = phone(KEEPS_NOTHING).open("visit/")
    expect(page.get_by_text("This browser keeps nothing")).to_be_visible()
    page.get_by_label("At school").check()
    expect(page.get_by_text("This device could not keep that.")).to_be_visible()
    assert found(page, axe) == []
