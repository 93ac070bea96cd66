"""What is handed over, in both engines: each deflates by its own means, and Python reads it."""

from __future__ import annotations

import json
import re

import pytest
import zxingcpp
from PIL import Image, ImageDraw

from builder.practice.handed_over import read_codes, read_text
from builder.practice.parts import messages
from tests.browser.engines.devices import Device, wait
from tests.browser.engines.family import by_touch, wait_for
from tests.browser.test_visit import as_kept, base, days_ago

__all__ = ["base"]  # the fixture
pytestmark = pytest.mark.browser
KEEP = """for (const one of JSON.parse(arguments[0]))
  localStorage.setItem(`practice:${one.site}:sitting:${one.id}`, JSON.stringify(one));"""
NO_CLIPBOARD = "Object.defineProperty(Navigator.prototype, 'clipboard', { get: () => undefined });"
TEXT = "return document.querySelector('textarea')?.value ?? ''"
DRAWN = """const code = document.querySelector('.code-area svg');
  return code && [code.getAttribute('viewBox'), code.querySelector('path').getAttribute('d')];"""


def read(view_box: str, path: str) -> str:
    """What a code says, from the drawing of its modules."""
    scale, size = 4, int(view_box.split()[2])
    picture = Image.new("L", (size * scale, size * scale), "white")
    draw = ImageDraw.Draw(picture)
    for x, y, run in re.findall(r"M(\d+) (\d+)h(\d+)v1h-\d+z", path):
        left, top = int(x) * scale, int(y) * scale
        draw.rectangle((left, top, left + int(run) * scale - 1, top + scale - 1), fill="black")
    (code,) = zxingcpp.read_barcodes(picture)
    return str(code.text)


def test_message_and_codes_are_read_again(device: Device, base: str) -> None:
    sittings = [days_ago(1, tries=20)]
    device.open(base + "about/")
    device.js(KEEP, json.dumps(sittings))
    device.open(base + "visit/")
    device.js(NO_CLIPBOARD)
    wait_for(device, "copy")
    by_touch(device, "copy")
    wait(lambda: bool(device.js(TEXT)), "no text")
    text = device.js(TEXT)
    assert as_kept(read_text(text)) == sittings
    (message,) = messages([text])
    assert message[0] == 1, "deflated"
    by_touch(device, "code")
    wait(lambda: bool(device.js(DRAWN)), "no code")
    assert as_kept(read_codes([read(*device.js(DRAWN))])) == sittings
