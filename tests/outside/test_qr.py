"""QR codes against what others have published or computed.

ISO/IEC 18004: a symbol of version v has 17 + 4v modules a side; the quiet zone is four modules
wide; three finder patterns of 7 modules stand in corners. Bytes that a version holds at level M
(ISO/IEC 18004:2015, table 7): 14, 26, 42, 62, 84, 106 for versions 1 to 6; values from memory.
"""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
import zxingcpp
from PIL import Image

from builder.make import qr, sheets
from builder.model.plan import Code
from builder.workspace.store import Store
from tests.support import plans

HOLDS = {1: 14, 2: 26, 3: 42, 4: 62, 5: 84, 6: 106}
FINDER = [
    "#######",
    "#     #",
    "# ### #",
    "# ### #",
    "# ### #",
    "#     #",
    "#######",
]


def address(length: int) -> str:
    """A lower-case https address: byte mode."""
    return ("https://practice.example.org/7k2m9qrt4xbpz/" + "abcdefgh" * 20)[:length]


def side(version: int) -> int:
    """Modules a side, quiet zone included."""
    return 17 + 4 * version + 2 * 4


def version_of(text: str) -> int:
    return next(version for version, held in HOLDS.items() if len(text) <= held)


# Version by length, level M, as another library computes.
@pytest.mark.parametrize(
    ("length", "version"), [(25, 2), (40, 3), (53, 4), (60, 4), (78, 5), (100, 6)]
)
def test_version_by_length(length: int, version: int) -> None:
    assert len(qr.modules(address(length))) == side(version)


@pytest.mark.parametrize("version", HOLDS)
def test_version_at_its_limit(version: int) -> None:
    assert len(qr.modules(address(HOLDS[version]))) == side(version)
    if version + 1 in HOLDS:
        assert len(qr.modules(address(HOLDS[version] + 1))) == side(version + 1)


@pytest.mark.parametrize("length", [25, 43, 60, 80, 100])
def test_modules_and_quiet_zone(length: int) -> None:
    rows = qr.modules(address(length))
    wanted = side(version_of(address(length)))
    assert [len(row) for row in rows] == [wanted] * wanted
    border = [row[i] for row in rows for i in (*range(4), *range(-4, 0))]
    border += [dark for row in (*rows[:4], *rows[-4:]) for dark in row]
    assert not any(border)


@pytest.mark.parametrize("length", [25, 80])
def test_finder_patterns_stand_in_three_corners(length: int) -> None:
    rows = [row[4:-4] for row in qr.modules(address(length))[4:-4]]
    text = ["".join("#" if dark else " " for dark in row) for row in rows]
    for part in (text[:7], text[-7:]):
        assert [line[:7] for line in part] == FINDER
    assert [line[-7:] for line in text[:7]] == FINDER


@pytest.mark.parametrize("length", [43, 80])
def test_another_program_reads_level_m(length: int) -> None:
    image = Image.open(io.BytesIO(qr.png(address(length))))
    (found,) = zxingcpp.read_barcodes(image)
    assert found.text == address(length)
    assert found.ec_level == "M"


@pytest.mark.parametrize("length", [43, 80])
def test_the_handout_prints_33_mm_without_the_quiet_zone(length: int, tmp_path: Path) -> None:
    """Measured in the rendering, the quiet zone of four modules (ISO/IEC 18004) included."""
    text = address(length)
    plan = replace(plans.plan(), code=Code("c" * 32, "codes/site", text, "site"))
    library: Any = pypdfium2
    dpi = 600
    with library.PdfDocument(sheets.handout(plan, {}, Store(tmp_path))) as document:
        image = document[0].render(scale=dpi / 72).to_pil().convert("L")
    only = zxingcpp.BarcodeFormats([zxingcpp.BarcodeFormat.QRCode])
    (found,) = zxingcpp.read_barcodes(image, formats=only)
    corners = found.position
    middle = (corners.top_left.x + corners.bottom_right.x) // 2
    centre = (corners.top_left.y + corners.bottom_right.y) // 2
    quiet = 4 * 33 / (17 + 4 * version_of(text))
    reach = round((33 / 2 + quiet - 0.2) / 25.4 * dpi)  # almost to the edge of the quiet zone
    square = image.crop((middle - reach, centre - reach, middle + reach, centre + reach))
    dark = square.point(lambda value: 255 if value < 128 else 0).getbbox()
    assert dark is not None
    for low, high in ((dark[0], dark[2]), (dark[1], dark[3])):
        assert (high - low) / dpi * 25.4 == pytest.approx(33, abs=0.15)
