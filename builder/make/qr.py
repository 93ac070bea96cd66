"""An address -> its QR code: SVG and PNG in the store, and the address as one reads it aloud.

Level M, quiet zone of four modules, 30 mm wide with the quiet zone (ISO/IEC 18004; the size by our
own trials: a module of 0.6 mm still reads in a blurred, dim picture).
"""

from __future__ import annotations

import functools
import io
import itertools
import re
from collections.abc import Iterator
from pathlib import Path

from builder.model.plan import Code
from builder.workspace.addresses import SLUG_PATTERN
from builder.workspace.store import Store

WIDTH_MM = 30  # quiet zone included
QUIET_MODULES = 4  # on every side, ISO/IEC 18004
DPI = 300

Rows = tuple[tuple[bool, ...], ...]


def make(code: Code, store: Store) -> tuple[Path, Path]:
    """The SVG and the PNG of `code`, made when the store has none."""
    if not store.has(code.key, ".svg", ".png"):
        store.put(code.key, ".svg", svg(code.address))
        store.put(code.key, ".png", png(code.address))
    return store.path(code.key, ".svg"), store.path(code.key, ".png")


@functools.lru_cache(maxsize=8)
def modules(address: str) -> Rows:
    """The code row by row, True where dark, with its quiet zone.

    Raises ValueError for an address that no version can hold (more than 2,331 bytes at level M).
    """
    import qrcode
    from qrcode.exceptions import DataOverflowError

    code = qrcode.QRCode(error_correction=qrcode.ERROR_CORRECT_M, border=QUIET_MODULES)
    code.add_data(address.encode(), optimize=0)
    try:
        code.make(fit=True)
    except (DataOverflowError, ValueError):
        raise ValueError(f"An address of {len(address)} characters fits no QR code.") from None
    return tuple(tuple(map(bool, row)) for row in code.get_matrix())


def svg(address: str) -> bytes:
    """The code as SVG, 30 mm wide: a white ground and one path of all dark runs.

    By hand: qrcode's own factory draws module by module, in a size of its own, without a ground.
    """
    rows = modules(address)
    side = len(rows)
    path = "".join(_runs(rows))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH_MM}mm" height="{WIDTH_MM}mm" '
        f'viewBox="0 0 {side} {side}" shape-rendering="crispEdges">'
        f'<path fill="#fff" d="M0 0h{side}v{side}H0z"/><path d="{path}"/></svg>\n'
    ).encode()


def _runs(rows: Rows) -> Iterator[str]:
    """Each run of dark modules in a row as one rectangle of a path."""
    for y, row in enumerate(rows):
        x = 0
        for dark, run in itertools.groupby(row):
            length = len(list(run))
            if dark:
                yield f"M{x} {y}h{length}v1h-{length}z"
            x += length


def side_of(svg_file: Path) -> int:
    """Modules a side of a made code, quiet zone included; reading it is quicker than computing."""
    found = re.search(r'viewBox="0 0 (\d+) ', svg_file.read_text("utf-8"))
    if not found:
        raise ValueError(f"{svg_file} is no code of ours.")
    return int(found[1])


def printed_mm(svg_file: Path, symbol_mm: float) -> float:
    """How wide a made code is printed, quiet zone included, so that the symbol has `symbol_mm`."""
    side = side_of(svg_file)
    return symbol_mm * side / (side - 2 * QUIET_MODULES)


def png(address: str) -> bytes:
    """The code as PNG of 1 bit, 300 dpi. A module is a whole number of pixels, so it is 30 to 34 mm
    wide for addresses of up to 80 characters."""
    from PIL import Image

    rows = modules(address)
    side, scale = len(rows), _scale(len(rows))
    image = Image.new("1", (side, side))
    image.putdata([not dark for row in rows for dark in row])
    image = image.resize((side * scale, side * scale), Image.Resampling.NEAREST)
    stream = io.BytesIO()
    image.save(stream, "PNG", dpi=(DPI, DPI), optimize=True)
    return stream.getvalue()


def _scale(side: int) -> int:
    """Pixels a module: rounded up, since a larger code reads better and a smaller one worse."""
    return max(1, -(-WIDTH_MM * DPI * 10 // (side * 254)))


def spoken(address: str) -> str:
    """The address as one reads it over the telephone: no scheme, a slug in groups of four.

    'https://practice.example.org/7k2m9qrt4xbpz/' -> 'practice.example.org / 7k2m 9qrt 4xbp z'.
    """
    parts = re.sub(r"^[a-z]+://", "", address).split("/")
    return " / ".join(_grouped(part) for part in parts if part)


def _grouped(part: str) -> str:
    if not re.fullmatch(SLUG_PATTERN, part):
        return part
    return " ".join(part[i : i + 4] for i in range(0, len(part), 4))
