"""A recording page whose microphone hears WORD."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Playwright

from tests.support.recording_browser import Room, room_with, said

WORD = "mouse"


@pytest.fixture
def room(tmp_path: Path, playwright: Playwright) -> Iterator[Room]:
    """A room of its own, with nothing recorded."""
    with room_with(
        tmp_path, playwright.chromium, "otter-12", lambda server: said(server, WORD)
    ) as one:
        yield one
