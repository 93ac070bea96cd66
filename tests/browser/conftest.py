"""A real Chromium and a site on a free port. Without a browser the tests are skipped, but under
CI=true that is a failure: a check that silently did not run would look like one that passed."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import (
    Browser,
    BrowserContext,
    ConsoleMessage,
    Page,
    Playwright,
    Response,
    ViewportSize,
    sync_playwright,
)

from builder.site.serve import server
from tests.support import plans
from tests.support.building import built_once, pages_of
from tests.support.demos import Demos, build_demos, plans_of
from tests.support.missing import missing
from tests.support.once import made_once
from tests.support.places import ROOT
from tests.support.running import running

# Without windows of its own it does the same for a third of the processor time.
SHELL, WHOLE = Path("/usr/bin/chromium-headless-shell"), Path("/usr/bin/chromium")
CHROMIUM = SHELL if SHELL.exists() else WHOLE
TABLET: ViewportSize = {"width": 820, "height": 1180}
LYING: ViewportSize = {"width": 1180, "height": 820}
PHONE: ViewportSize = {"width": 390, "height": 844}
# Nothing here is drawn by a graphics card, and standing in for one costs a tenth of the time.
PLAIN = ("--no-sandbox", "--mute-audio", "--disable-gpu", "--disable-software-rasterizer")
GONE = 'http-equiv="refresh"'


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: Any) -> None:
        """Say nothing: the tests look at the browser, not at the server."""


@dataclass
class Watched:
    """A page with everything it complained of and every host it asked."""

    page: Page
    base: str
    errors: list[str] = field(default_factory=list)
    hosts: set[str] = field(default_factory=set)

    def open(self, path: str) -> Page:
        """Go to a page of the site."""
        self.page.goto(self.base + path, wait_until="load")
        return self.page

    def said(self, message: ConsoleMessage) -> None:
        """Keep what the console warns of."""
        if message.type in ("error", "warning"):
            self.errors.append(message.text)

    def answered(self, response: Response) -> None:
        """Keep what was not found."""
        if response.status >= 400:
            self.errors.append(f"{response.status} {response.url}")


def watch(context: BrowserContext, base: str) -> Watched:
    """A new page that writes down console errors, faults and requests."""
    watched = Watched(context.new_page(), base)
    page = watched.page
    page.set_default_timeout(8000)
    page.on("console", watched.said)
    page.on("pageerror", lambda e: watched.errors.append(str(e)))
    page.on("response", watched.answered)
    page.on("request", lambda r: watched.hosts.add(urlsplit(r.url).netloc))
    return watched


@contextmanager
def serving(folder: Path) -> Iterator[str]:
    """The address at which a folder is served, on a free port."""
    with running(
        ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(folder)))
    ) as server:
        yield f"http://127.0.0.1:{server.server_address[1]}/"


@pytest.fixture(scope="session")
def site(run_folder: Path, stock: Path) -> Path:
    """The folder of a finished site with two programs."""
    plan = plans.plan(plans.program_k(), plans.program_sh())
    return built_once(plan, run_folder / "site", stock)


@pytest.fixture(scope="session")
def base(site: Path) -> Iterator[str]:
    """The address of the site on a free port."""
    with serving(site) as address:
        yield address


@pytest.fixture(scope="session")
def pages(site: Path) -> tuple[str, ...]:
    """The addresses of all pages that stay: one that is gone leads away at once."""
    stay = (page for page in pages_of(site) if GONE not in (site / page / "index.html").read_text())
    return tuple(stay)


@pytest.fixture(scope="session")
def demos(run_folder: Path, stock: Path) -> Iterator[Demos]:
    """All demo sites, built once a run and served."""
    folder = made_once(run_folder / "demos", lambda empty: build_demos(empty, stock))
    with running(server(folder / "public", 0)) as one:
        port = one.server_address[1]
        yield Demos(f"http://127.0.0.1:{port}/", plans_of(folder), folder / "public")


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """The driver, one for all tests of a process: a second one beside it cannot run."""
    if not CHROMIUM.exists():
        missing(f"neither {SHELL} nor {WHOLE} is there")
    with sync_playwright() as driver:
        yield driver


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    """Debian's Chromium, its shell without windows where there is one."""
    chromium = playwright.chromium.launch(executable_path=str(CHROMIUM), args=PLAIN)
    yield chromium
    chromium.close()


@pytest.fixture
def watched(browser: Browser, base: str) -> Iterator[Watched]:
    """A fresh tablet, upright, with nothing kept from before."""
    context = browser.new_context(viewport=TABLET)
    yield watch(context, base)
    context.close()


@pytest.fixture(scope="session")
def axe() -> str:
    """The source of axe-core, as npm laid it into tests/js."""
    file = ROOT / "tests" / "js" / "node_modules" / "axe-core" / "axe.min.js"
    if not file.is_file():
        missing("axe-core is not installed (npm ci in tests/js)")
    return file.read_text("utf-8")
