"""Several finished PDFs -> one, with a bookmark for each and all of their tags.

Each begins on the front of a leaf, so that a printer that prints both sides never puts two clients
on one. The tags (ISO 32000-1, 14.7: structure trees) become parts of one tree: entries of the
parent trees are numbered on, and the ids of table headings are told apart by their part. The whole
does not call itself PDF/UA, as its parts do, since nothing here checks that of it.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from pypdf import PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    BooleanObject,
    DictionaryObject,
    NameObject,
    NumberObject,
    TextStringObject,
)

TITLE = "/Title"


def pages_of(pdf: bytes) -> int:
    """How many pages a PDF has."""
    return len(PdfReader(io.BytesIO(pdf)).pages)


def bind(parts: Sequence[tuple[str, bytes]], title: str, *, two_sided: bool = True) -> bytes:
    """One PDF of all parts, each with the name of its bookmark. Same parts, same bytes.

    two_sided: a part of an odd number of pages is followed by an empty one.
    """
    writer, tree = PdfWriter(), _Tree()
    for name, pdf in parts:
        reader = PdfReader(io.BytesIO(pdf))
        first = len(writer.pages)
        pages = [writer.add_page(page) for page in reader.pages]
        writer.add_outline_item(title=name, page_number=first)
        tree.add(reader, writer, pages)
        if two_sided and len(pages) % 2:
            writer.add_blank_page()
    tree.close(writer)
    writer.add_metadata({TITLE: title})
    stream = io.BytesIO()
    writer.write(stream)
    return stream.getvalue()


class _Tree:
    """The structure tree of the whole, part by part."""

    def __init__(self) -> None:
        self.numbers = ArrayObject()
        self.kids = ArrayObject()
        self.roles = DictionaryObject()
        self.ids: dict[str, Any] = {}
        self.next = self.parts = 0
        self.language: Any = None

    def add(self, reader: PdfReader, writer: PdfWriter, pages: Iterable[Any]) -> None:
        """The tags of a part whose pages were added as `pages`."""
        catalog: Any = reader.root_object
        root: Any = catalog["/StructTreeRoot"].clone(writer)
        self.parts += 1
        self.language = self.language or catalog.get("/Lang")
        for old, new in zip(reader.pages, pages, strict=True):
            self._renumber(old, new, "/StructParents")
            notes = zip(old.get("/Annots", ()), new.get("/Annots", ()), strict=True)
            for one, other in notes:
                self._renumber(one.get_object(), other.get_object(), "/StructParent")
        self._number_on(root["/ParentTree"])
        self.roles.update(root.get("/RoleMap", {}))
        kids = root["/K"]
        for kid in kids if isinstance(kids, list) else [kids]:
            self.kids.append(kid)
            kid.get_object()[NameObject("/Lang")] = catalog["/Lang"]
        for element in _elements(root["/K"]):
            self._own_ids(element)

    def _renumber(self, old: Any, new: Any, key: str) -> None:
        """A page or note points into the parent tree; its copy does not yet."""
        if key in old:
            new[NameObject(key)] = NumberObject(old[key] + self.next)

    def _number_on(self, tree: Any) -> None:
        """Typst writes a flat tree: pairs of a number and what it stands for."""
        pairs = tree["/Nums"]
        highest = -1
        for number, value in zip(pairs[::2], pairs[1::2], strict=True):
            self.numbers += [NumberObject(number + self.next), value]
            highest = max(highest, number)
        self.next += highest + 1

    def _own_ids(self, element: Any) -> None:
        if "/ID" in element:
            own = self._own(element["/ID"])
            self.ids[str(own)] = element.indirect_reference
            element[NameObject("/ID")] = own
        facts = element.get("/A", [])
        for fact in facts if isinstance(facts, list) else [facts]:
            about = fact.get_object()
            if "/Headers" in about:
                about[NameObject("/Headers")] = ArrayObject(map(self._own, about["/Headers"]))

    def _own(self, name: Any) -> TextStringObject:
        return TextStringObject(f"{self.parts:04}-{name}")

    def close(self, writer: PdfWriter) -> None:
        """Write the tree into the catalogue."""
        root = DictionaryObject({NameObject("/Type"): NameObject("/StructTreeRoot")})
        place = writer._add_object(root)
        for kid in self.kids:
            kid.get_object()[NameObject("/P")] = place
        numbers = DictionaryObject({NameObject("/Nums"): self.numbers})
        named = [part for name in sorted(self.ids) for part in (name, self.ids[name])]
        names = ArrayObject(TextStringObject(p) if isinstance(p, str) else p for p in named)
        root[NameObject("/K")] = self.kids
        root[NameObject("/RoleMap")] = self.roles
        root[NameObject("/ParentTree")] = writer._add_object(numbers)
        root[NameObject("/ParentTreeNextKey")] = NumberObject(self.next)
        root[NameObject("/IDTree")] = DictionaryObject({NameObject("/Names"): names})
        shown = DictionaryObject({NameObject("/DisplayDocTitle"): BooleanObject(True)})
        marked = DictionaryObject({NameObject("/Marked"): BooleanObject(True)})
        catalog = writer.root_object
        catalog[NameObject("/StructTreeRoot")] = place
        catalog[NameObject("/MarkInfo")] = marked
        catalog[NameObject("/ViewerPreferences")] = shown
        if self.language:
            catalog[NameObject("/Lang")] = self.language


def _elements(kids: Any) -> Iterator[Any]:
    """All structure elements below, those of marked content left out."""
    waiting = [kids]
    while waiting:
        found = waiting.pop()
        found = found.get_object() if hasattr(found, "get_object") else found
        if isinstance(found, list):
            waiting += found
        elif isinstance(found, dict) and "/S" in found:
            yield found
            waiting += [found["/K"]] if "/K" in found else []
