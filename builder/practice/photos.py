"""Photographs and screenshots of codes -> what the codes hold, in any order, of any messages."""

from __future__ import annotations

import io
import re
import warnings
from collections.abc import Iterable

from builder.problems import UsageError

# How a picture begins (the libraries' own table would try text as a picture, too).
PICTURE = re.compile(
    rb"\xff\xd8\xff|\x89PNG\r\n|GIF8|RIFF....WEBP|BM....\0\0\0\0|II\*\0|MM\0\*|....ftyp", re.DOTALL
)
APPLES_OWN = re.compile(rb"....ftyp(hei|hev|mif|msf|avif)", re.DOTALL)
MESSAGE = re.compile(r"PR1/([A-Z2-7]{7})/", re.IGNORECASE | re.ASCII)  # as envelope.js writes it
SMALLER = (1, 2, 3)  # a screen that was photographed shows its own dots, which blur away


def is_picture(data: bytes) -> bool:
    """Whether a file's bytes are a picture of any kind."""
    return PICTURE.match(data[:16]) is not None


def codes_in(data: bytes) -> tuple[str, ...]:
    """What the codes of records in a picture hold. Raises UsageError where there is none."""
    import zxingcpp
    from PIL import Image

    if APPLES_OWN.match(data[:16]):
        raise UsageError(
            "Pictures of this kind (HEIC) cannot be read. Save it as JPEG, or set the camera to "
            "the most compatible format, and take it again."
        )
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(data)) as opened:
                picture = opened.convert("L")
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise UsageError("This picture is far too large.") from None
    except Exception:  # a damaged picture may raise anything in its reader
        raise UsageError("This picture is damaged. Take it again.") from None
    found: dict[str, None] = {}
    for smaller in SMALLER:
        image = picture.reduce(smaller) if smaller > 1 else picture
        read = zxingcpp.read_barcodes(
            image, formats=zxingcpp.BarcodeFormats([zxingcpp.BarcodeFormat.QRCode])
        )
        found |= dict.fromkeys(code.text for code in read if MESSAGE.match(code.text))
        if found:
            return tuple(found)
    raise UsageError(
        "No code of a practice record can be read in this picture. Take it again: the whole code, "
        "sharp, without a reflection."
    )


def by_message(codes: Iterable[str]) -> tuple[tuple[str, ...], ...]:
    """Codes, sorted by the message that they are parts of."""
    found: dict[str, list[str]] = {}
    for code in codes:
        if head := MESSAGE.match(code):
            found.setdefault(head[1].upper(), []).append(code)
    return tuple(map(tuple, found.values()))
