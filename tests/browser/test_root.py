"""The page that a host shows for an address that is not there: it finds the client's site on this
host, and never leads to another one."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from builder.site.root import write_root
from builder.workspace.folder import SITE_MARK
from tests.support.running import running

SITE = "7k10vqrt4xbpz"
PATHS = (f"/{SITE}/", f"/clinic/speechtherapy/{SITE}/")


class _Host(SimpleHTTPRequestHandler):
    """A static host: 404.html for what is not there."""

    def send_error(self, code: int, *_: Any, **__: Any) -> None:
        data = (Path(self.directory) / "404.html").read_bytes()
        self.send_response(code)
        self.send_header("Content-Type", "text/html")
        self.send_header("Content-Length", str(len(data)))
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(data)

    def log_message(self, format: str, *args: Any) -> None:
        """Say nothing."""


@pytest.fixture(scope="module")
def host(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    folder = tmp_path_factory.mktemp("host")
    write_root(folder)
    for path in PATHS:
        (folder / path[1:]).mkdir(parents=True)
        (folder / path[1:] / "index.html").write_text("<title>Today</title>")
        (folder / path[1:] / SITE_MARK).write_text("{}")
    with running(
        ThreadingHTTPServer(("127.0.0.1", 0), partial(_Host, directory=str(folder)))
    ) as server:
        yield f"http://127.0.0.1:{server.server_address[1]}"


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    """One for all addresses: the host's page keeps nothing."""
    context = browser.new_context()
    page = context.new_page()
    page.route("http://elsewhere.example/**", lambda route: route.fulfill(body="elsewhere"))
    yield page
    context.close()


@pytest.mark.parametrize(
    "typed",
    [
        pytest.param(f"/{SITE}/steps/gone/", id="a page that is gone"),
        pytest.param(f"/{SITE.upper()}/", id="capitals"),
        pytest.param("/7klovqrt4xbpz/", id="l and o"),
        pytest.param("/7KIOuqrt4xbpz", id="i, o and u"),
        pytest.param("/7k10 vqrt 4xbp z/", id="blanks"),
        pytest.param("/%20" + SITE, id="a blank before it"),
        pytest.param(f"//{SITE}/gone/", id="two slashes"),
    ],
)
@pytest.mark.parametrize("path", PATHS)
def test_a_typed_address_finds_the_site(path: str, typed: str, host: str, page: Page) -> None:
    page.goto(host + path.removesuffix(f"/{SITE}/") + typed)
    page.wait_for_url(host + path, timeout=8000)
    assert page.title() == "Today"


@pytest.mark.parametrize(
    "typed",
    [
        f"//elsewhere.example/{SITE}/x",
        f"/%5C/elsewhere.example/{SITE}/x",
        f"///elsewhere.example/{SITE}/x",
        "/0000000000000/",
        "/%E0%A4%A/x",
    ],
)
def test_it_never_leads_to_another_host(typed: str, host: str, page: Page) -> None:
    with page.expect_response(lambda answer: answer.status == 404):
        page.goto(host + typed)
    page.wait_for_load_state("networkidle")
    assert page.url.startswith(host + "/")
    assert page.title() == "This page is no longer here"
