"""A sitting with the network cut, and a newer version that comes in between two runs: in both
engines, with the ranges of RFC 9110, section 14."""

from __future__ import annotations

import shutil
from dataclasses import dataclass, replace
from itertools import repeat
from pathlib import Path

import pytest

from tests.browser.engines.devices import Device, wait
from tests.browser.engines.family import (
    LISTEN,
    at_rest,
    begin,
    by_touch,
    hurry,
    kept,
    practise,
    wait_for,
)
from tests.support import plans
from tests.support.building import built_once
from tests.support.compressed import Host
from tests.support.running import running

pytestmark = pytest.mark.browser
PAGES = ("k-words/", "sound/", "helper/", "print/", "visit/", "about/")
STEP = "k-words/"
OLD, NEW = "Far back", "Tongue up"  # what is said before a try
# What the page finds out while nobody waits: in WebKit the driver cannot.
TELL = "(async () => {{ {} }})().then((found) => {{ window.told = found; }}, String)"
FETCH = """const answer = await fetch({}, {{ headers: {{ {} }} }});
  const body = await answer.arrayBuffer();
  return [answer.status, body.byteLength, answer.headers.get('Content-Range')];"""
REGISTERED = "const found = await navigator.serviceWorker.getRegistration();"
WAITS = f"{REGISTERED} return Boolean(found?.waiting);"
# As where a browser is told to keep nothing of any page.
DENIED = """for (const name of ["localStorage", "indexedDB", "caches"])
  Object.defineProperty(window, name, { get: () => { throw new DOMException("", "no"); } });
ServiceWorkerContainer.prototype.register = async () => {
  window.refused = true;
  throw new DOMException("", "no");
};"""
STONES = """const ahead = document.querySelector('.stones .ahead');
  return ahead && getComputedStyle(ahead).fill === 'none';"""
SEEN_AGAIN = "document.dispatchEvent(new Event('visibilitychange'))"


@dataclass
class Clinic:
    """What a web host has of one client, at an address that stays."""

    folder: Path
    versions: dict[str, Path]
    port: int = 0

    @property
    def base(self) -> str:
        """Not at 127.0.0.1: there clinics look at sites while they write, and nothing is kept."""
        return f"http://localhost:{self.port}/{plans.SLUG}/"

    def publish(self, version: str) -> None:
        """Put it where the old one was; "" to take it away."""
        there = self.folder / plans.SLUG
        there.unlink(missing_ok=True)
        if version:
            there.symlink_to(self.versions[version])

    def host(self) -> Host:
        """The same each time."""
        made = Host(self.folder, self.port)
        self.port = made.server_address[1]
        return made


@pytest.fixture
def clinic(tmp_path: Path, run_folder: Path, stock: Path) -> Clinic:
    """Two versions of a short practice."""
    program = plans.program_k()
    easier, words = program.steps
    short = replace(words, items=words.items[:3], rounds=words.rounds[:1], tries=3)
    versions = {}
    for reminder in (OLD, NEW):
        plan = plans.plan(replace(program, reminder=reminder, steps=(easier, short)))
        plan = replace(plan, path=True)
        versions[reminder] = built_once(plan, run_folder / "offline", stock)
    (tmp_path / "public").mkdir()
    made = Clinic(tmp_path / "public", versions)
    made.publish(OLD)
    return made


def told(device: Device, script: str) -> object:
    """What asynchronous work in the page comes to; begun again in a page that was loaded anew."""
    device.js("delete window.told; delete window.asked")
    ask = f"if (!window.asked) {{ window.asked = true; {TELL.format(script)}; }}"
    wait(lambda: bool(device.js(f"{ask} return 'told' in window")), script)
    return device.js("return window.told")


def fetched(device: Device, address: str, header: str = "") -> object:
    """Status, bytes and range of an answer."""
    return told(device, FETCH.format(repr(address), header))


def says(device: Device, text: str) -> bool:
    """Whether it stands on the page."""
    return text in str(device.js("return document.querySelector('#page')?.innerText"))


def first_visit(device: Device, clinic: Clinic) -> None:
    """Today's page, until all of the site is there."""
    device.open(clinic.base)
    hurry(device)  # or it is as patient as it is with a family
    there = f"{REGISTERED} return Boolean(found);"
    wait(lambda: told(device, there) is True, "nothing is begun")
    wait(lambda: says(device, "Works without internet"), "it is not kept")


def go_home(device: Device, clinic: Clinic) -> None:
    """From the end of a sitting, and be there: no way may be taken while another is under way."""
    wait(lambda: bool(device.js("return document.querySelector('.stones')")), "no stones")
    at_rest(device, "home")
    by_touch(device, "home")
    there = "return location.href === arguments[0] && document.readyState === 'complete'"
    wait(lambda: bool(device.js(there, clinic.base)), "no way home")


def test_a_whole_sitting_with_the_server_stopped(device: Device, clinic: Clinic) -> None:
    with running(clinic.host()):
        first_visit(device, clinic)
    for page in PAGES:
        device.open(clinic.base + page)
        assert device.js("return document.querySelector('[data-page]').dataset.page + '/'") == page
    device.open(clinic.base)
    device.js(LISTEN)
    wait(lambda: says(device, "Works without internet"), "it is not said with the server stopped")
    by_touch(device, "start")
    wait_for(device, "hear")
    by_touch(device, "hear")
    wait_for(device, "clear")
    assert len(device.js("return window.sounded")) == 1
    hurry(device)
    practise(device, by_touch, repeat("clear"), lambda _: None)
    (record,) = kept(device)
    assert record.end == "done"
    wait(lambda: bool(device.js(STONES)), "no stones with their style")
    site = clinic.versions[OLD]
    sheet, clip = clinic.base + "practice-sheet.pdf", clinic.base + "clips/cow-natural.mp3"
    assert fetched(device, sheet) == [200, (site / "practice-sheet.pdf").stat().st_size, None]
    size = (site / "clips/cow-natural.mp3").stat().st_size
    for asked, answer in (
        ("0-1", [206, 2, f"bytes 0-1/{size}"]),
        ("-5", [206, 5, f"bytes {size - 5}-{size - 1}/{size}"]),
        (f"{size}-", [416, 0, f"bytes */{size}"]),
    ):
        assert fetched(device, clip, f"Range: 'bytes={asked}'") == answer


def test_a_newer_version_comes_in_between_two_runs(device: Device, clinic: Clinic) -> None:
    with running(clinic.host()) as host:
        first_visit(device, clinic)
        clinic.publish(NEW)
        host.sent.clear()
        device.open(clinic.base + STEP)
        wait(lambda: told(device, WAITS) is True, "the newer version was not fetched")
        changed = {path for path in host.sent if path.startswith(f"/{plans.SLUG}/")}
        assert f"/{plans.SLUG}/sw.js" in changed
        assert not any("/assets/" in path or "/clips/" in path for path in changed), changed
        assert says(device, OLD)
        begin(device, by_touch)
        device.js(SEEN_AGAIN)
        practise(device, by_touch, repeat("clear"), lambda _: None)
        assert told(device, WAITS) is True, "it waits as long as the run is on"
        assert says(device, "You did it!"), "the page was not loaded again"
        go_home(device, clinic)
        device.open(clinic.base + STEP)
        wait(lambda: says(device, NEW), "the newer version did not come in")
        # and a site that its clinic took away goes from the tablet, where its marks stay
        clinic.publish("")
        device.open(clinic.base)
        gone = f"{REGISTERED} return [!found, (await caches.keys()).length];"
        wait(lambda: told(device, gone) == [True, 0], "it is still kept")
        assert len(kept(device)) == 1


def test_where_nothing_may_be_kept_practice_goes_on_and_says_so(
    device: Device, clinic: Clinic, tmp_path: Path
) -> None:
    site = tmp_path / "denying"
    shutil.copytree(clinic.versions[OLD], site)
    page = (site / "index.html").read_text("utf-8")
    (site / "index.html").write_text(
        page.replace("<head>", '<head><script src="denied.js"></script>')
    )
    (site / "denied.js").write_text(DENIED)
    clinic.versions["denying"] = site
    clinic.publish("denying")
    with running(clinic.host()):
        device.open(clinic.base)
        wait(lambda: says(device, "not keeping the marks"), "it is not said")
        begin(device, by_touch)
        practise(device, by_touch, repeat("clear"), lambda _: None)
        assert says(device, "You did it!")
        wait(lambda: bool(device.js("return window.refused")), "nobody asked")
        go_home(device, clinic)
        wait(lambda: says(device, "not keeping the marks"), "no way back")
        assert not says(device, "Works without internet")
