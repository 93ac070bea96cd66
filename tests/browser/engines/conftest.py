"""One test, both engines."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.browser.engines.devices import Chromium, Device, WebKit
from tests.browser.engines.webkit import screen, there_is_webkit, webkit_driver


@pytest.fixture(scope="session")
def display() -> Iterator[str]:
    """The screen of WebKit, one in each process of a run."""
    there_is_webkit()
    with screen() as number:
        yield number


@pytest.fixture
def webkit(display: str, tmp_path: Path) -> Iterator[int]:
    """The port of a driver of its own: one that hangs spoils no other test."""
    with webkit_driver(display, tmp_path / "webkit") as port:
        yield port


@pytest.fixture(params=["chromium", "webkit"])
def device(request: pytest.FixtureRequest) -> Iterator[Device]:
    """A browser of either engine, with nothing kept from before."""
    one: Device
    if request.param == "chromium":
        one = Chromium(request.getfixturevalue("browser"))
    else:
        one = WebKit(request.getfixturevalue("webkit"))
    yield one
    one.close()
