"""Texts of a tagged PDF with the language that each is in, as a screen reader takes it: its own
where it states one, else that of the nearest element above, else the document's
(ISO 32000-1:2008, 14.9.2.2; from memory)."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from typing import Any

from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream, StreamObject

Texts = list[tuple[str, str]]


def texts(data: bytes) -> Texts:
    """(language, text) for each marked piece of text, then for each text of a picture."""
    reader = PdfReader(io.BytesIO(data))
    root: Any = reader.trailer["/Root"]
    leaves: Any = reader.pages
    above: dict[tuple[int, int], str] = {}
    pictures: Texts = []
    pages = {page.indirect_reference.idnum: at for at, page in enumerate(leaves)}
    _walk(root["/StructTreeRoot"]["/K"], str(root["/Lang"]), None, pages, above, pictures)
    found: Texts = []
    for at, page in enumerate(reader.pages):
        for mcid, own, text in _marked(page, reader):
            found.append((own or above.get((at, mcid), ""), text))
    return found + pictures


def _walk(
    node: Any, lang: str, page: Any, pages: dict[int, int], above: Any, pictures: Texts
) -> None:
    if not isinstance(node, int):
        node = node.get_object()
    if isinstance(node, list):
        for kid in node:
            _walk(kid, lang, page, pages, above, pictures)
    elif isinstance(node, int):
        above[pages[page.idnum], node] = lang
    else:
        lang = str(node.get("/Lang", lang))
        page = node.raw_get("/Pg") if "/Pg" in node else page
        if "/Alt" in node:
            pictures.append((lang, str(node["/Alt"])))
        if "/MCID" in node:
            above[pages[page.idnum], int(node["/MCID"])] = lang
        if "/K" in node:
            _walk(node.raw_get("/K"), lang, page, pages, above, pictures)


def _marked(page: PageObject, reader: PdfReader) -> Iterator[tuple[int, str, str]]:
    """(number, own language or "", text) of each marked piece of a page; text outside of any,
    as at the foot, is not read aloud."""
    fonts: Any = page["/Resources"]["/Font"]  # type: ignore[index]
    maps = {name: _signs(fonts[name]["/ToUnicode"]) for name in fonts}
    open_: list[tuple[int | None, str]] = []
    font, text = "", ""
    for operands, operator in ContentStream(page.get_contents(), reader).operations:
        if operator in (b"BDC", b"BMC"):
            given = operands[1] if len(operands) > 1 and isinstance(operands[1], dict) else {}
            open_.append((given.get("/MCID"), str(given.get("/Lang", ""))))
            text = text if given.get("/MCID") is None else ""
        elif operator == b"EMC":
            mcid, own = open_.pop()
            if mcid is not None and text:
                yield int(mcid), own, text.replace("\u00a0", " ")
        elif operator == b"Tf":
            font = str(operands[0])
        elif operator in (b"Tj", b"TJ"):
            parts = operands[0] if operator == b"TJ" else operands
            codes = b"".join(_bytes(one) for one in parts if isinstance(one, str | bytes))
            text += "".join(maps[font].get(codes[i : i + 2], "") for i in range(0, len(codes), 2))


def _bytes(one: Any) -> bytes:
    return bytes(one) if isinstance(one, bytes) else bytes(one.original_bytes)


def _signs(stream: StreamObject) -> dict[bytes, str]:
    """What each code of two bytes stands for."""
    text = stream.get_data().decode("latin-1")
    found: dict[bytes, str] = {}
    for block in re.findall(r"beginbfchar(.*?)endbfchar", text, re.S):
        for code, sign in re.findall(r"<(\w+)>\s*<(\w+)>", block):
            found[bytes.fromhex(code)] = bytes.fromhex(sign).decode("utf-16-be")
    for block in re.findall(r"beginbfrange(.*?)endbfrange", text, re.S):
        for low, high, sign in re.findall(r"<(\w+)>\s*<(\w+)>\s*<(\w+)>", block):
            first = int(sign, 16)
            for n in range(int(low, 16), int(high, 16) + 1):
                found[n.to_bytes(2, "big")] = chr(first + n - int(low, 16))
    return found
