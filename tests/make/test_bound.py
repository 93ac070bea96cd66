"""Bound sheets are the sheets: same pages, text and tags, told by another reader (pdfium)."""

from __future__ import annotations

import ctypes
import functools
import io
from collections.abc import Iterator
from typing import Any

import pypdfium2 as pdfium
import pypdfium2.raw as pdfium_raw
import pytest
import typst
from pypdf import PdfReader

from builder.make.bound import bind, pages_of

PDFIUM: Any = pdfium  # it has no types
raw: Any = pdfium_raw
TABLE = "#table(columns: 2, table.header([Day], [Box]), [Mon], [x])"


@functools.cache
def pdf(code: str, *, pages: int = 1) -> bytes:
    """A sheet with a heading, a link and a table with ids of headings, tagged as PDF/UA-1."""
    more = "#pagebreak() Back" * (pages - 1)
    text = (
        f'#set document(title: "{code}")\n#set text(lang: "en")\n= {code}\n'
        f'#link("https://practice.example.org/{code}")[{code} opens] {TABLE} {more}'
    )
    return typst.compile(text.encode(), format="pdf", pdf_standards=["ua-1"], timestamp=0)


def parts() -> list[tuple[str, bytes]]:
    return [
        ("badger-03", pdf("badger-03")),
        ("heron-07", pdf("heron-07", pages=2)),
        ("otter-12", pdf("otter-12")),
    ]


def opened(data: bytes) -> Any:
    return PDFIUM.PdfDocument(data)


def tags(page: Any) -> list[tuple[int, str, int]]:
    """Depth, kind and number of marked contents of every element with something on the page."""
    tree = raw.FPDF_StructTree_GetForPage(page.raw)
    tops = (
        raw.FPDF_StructTree_GetChildAtIndex(tree, at)
        for at in range(raw.FPDF_StructTree_CountChildren(tree))
    )
    found = [list(_walked(top, 0)) for top in tops]
    return [one for part in found if len(part) > 1 for one in part]


def _walked(element: Any, depth: int) -> Iterator[tuple[int, str, int]]:
    size = raw.FPDF_StructElement_GetType(element, None, 0)
    text = ctypes.create_string_buffer(size)
    raw.FPDF_StructElement_GetType(element, text, size)
    kind = text.raw.decode("utf-16-le").rstrip("\0")
    yield depth, kind, raw.FPDF_StructElement_GetMarkedContentIdCount(element)
    for at in range(raw.FPDF_StructElement_CountChildren(element)):
        if child := raw.FPDF_StructElement_GetChildAtIndex(element, at):
            yield from _walked(child, depth + 1)


def text_of(page: Any) -> str:
    return str(page.get_textpage().get_text_range())


@pytest.mark.parametrize(
    ("two_sided", "starts", "pages"), [(True, [0, 2, 4], 6), (False, [0, 1, 3], 4)]
)
def test_every_client_begins_on_the_front_of_a_leaf(
    two_sided: bool, starts: list[int], pages: int
) -> None:
    whole = opened(bind(parts(), "Sheets", two_sided=two_sided))
    marks = [(mark.get_title(), mark.get_dest().get_index()) for mark in whole.get_toc()]
    assert marks == list(zip([name for name, _ in parts()], starts, strict=True))
    assert len(whole) == pages
    assert [name in text_of(whole[at]) for name, at in marks] == [True] * 3


def test_every_page_keeps_its_text_and_its_tags() -> None:
    whole = opened(bind(parts(), "Sheets"))
    assert raw.FPDFCatalog_IsTagged(whole.raw)
    at = 0
    for _, data in parts():
        single = opened(data)
        for number in range(len(single)):
            assert text_of(whole[at + number]) == text_of(single[number])
            assert tags(whole[at + number]) == tags(single[number])
            assert "P" in {kind for _, kind, _ in tags(single[number])}
        at += len(single) + len(single) % 2


def test_ids_of_headings_are_told_apart_and_links_stay_in_the_tree() -> None:
    root: Any = PdfReader(io.BytesIO(bind(parts(), "Sheets"))).root_object
    tree = root["/StructTreeRoot"]
    names = tree["/IDTree"]["/Names"][::2]
    assert len(names) == 2 * len(parts())
    assert names == sorted(set(names))
    numbers = tree["/ParentTree"]["/Nums"][::2]
    assert numbers == list(range(tree["/ParentTreeNextKey"]))
    assert len(numbers) == 4 + 3, "pages with something on them, and links"
    assert root["/Lang"].startswith("en")


def test_same_parts_same_bytes() -> None:
    assert bind(parts(), "Sheets") == bind(parts(), "Sheets")
    assert [pages_of(data) for _, data in parts()] == [1, 2, 1]
