"""What the store holds of one client: sheets and lists that name it, and pictures of its codes. All
of it is made again when it is asked for."""

from __future__ import annotations

import io
import re
from pathlib import Path

from builder.workspace.store import DIGEST

PICTURES_OF_CODES = (".svg", ".png")
TITLE = re.compile(rb"<dc:title>.*?</dc:title>", re.DOTALL)
OF_ONE = " · ".encode()  # in the title of what is printed for one client, before the code


def take_out(store: Path, code: str, site: str) -> int:
    """Delete what the store at `store` holds of a client; how many things that were. code: the
    client's; site: its slug."""
    sheets = [file for file in store.glob("??/*.pdf") if _names(file, code, site)]
    codes = [file for file in store.glob("??/*.png") if _leads_to(file, site)]
    for files, endings in ((sheets, (".pdf",)), (codes, PICTURES_OF_CODES)):
        for file in files:
            for ending in (*endings, *(one + DIGEST for one in endings)):
                file.with_suffix(ending).unlink(missing_ok=True)
    return len(sheets) + len(codes)


def _names(file: Path, code: str, site: str) -> bool:
    """Whether a PDF names the client. What is of one client has the code in its title; in a list of
    several it stands in the text alone, which is packed."""
    data = file.read_bytes()
    named = re.compile(rf"(?<![a-z0-9-]){re.escape(code)}(?![0-9])".encode())
    if named.search(data) or site.encode() in data:
        return True
    title = TITLE.search(data)
    if title and OF_ONE in title[0]:
        return False
    text = _text(data)
    return text is None or named.search(text.encode()) is not None


def _text(pdf: bytes) -> str | None:
    """None where nobody can read it: the store takes it for missing."""
    from pypdf import PdfReader

    try:
        return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)
    except Exception:  # a damaged file may raise anything in its reader
        return None


def _leads_to(file: Path, site: str) -> bool:
    """Whether a picture is a code that leads into the client's site."""
    import zxingcpp
    from PIL import Image

    try:
        with Image.open(file) as opened:
            picture = opened.convert("L")
    except Exception:  # as above
        return True
    read = zxingcpp.read_barcodes(
        picture, formats=zxingcpp.BarcodeFormats([zxingcpp.BarcodeFormat.QRCode])
    )
    return any(f"/{site}/" in one.text for one in read)
