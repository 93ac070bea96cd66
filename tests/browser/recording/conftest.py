"""A recording page whose microphone hears WORD."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Playwright

from tests.support.recording_browser import Room, chromium, room_with, said, write

WORD = "mouse"


@pytest.fixture(scope="session")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What the microphone hears: WORD, once each time it is opened."""
    return write(tmp_path_factory.mktemp("microphone") / "microphone.wav", said(WORD))


@pytest.fixture(scope="session")
def hearing(playwright: Playwright, sound: Path) -> Iterator[Browser]:
    """The browser with that microphone."""
    browser = chromium(playwright.chromium, sound)
    yield browser
    browser.close()


@pytest.fixture
def room(tmp_path: Path, stock: Path, hearing: Browser, sound: Path) -> Iterator[Room]:
    """A room of its own, with nothing recorded."""
    with room_with(tmp_path, stock, hearing, sound) as one:
        yield one
