"""How much an SVG file draws once every reference is followed: a few lines can ask for billions."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

REFERENCE = re.compile(r"#([\w.:-]+)")


class TooDeepError(Exception):
    """References lead back to themselves, or further than a drawing needs."""


def shapes(root: Element, deepest: int) -> int:
    """How many elements are drawn, what is used counted each time.

    References from a style sheet cannot be counted: a renderer's own limits must stop those.
    Raises TooDeepError where elements and references together go deeper than `deepest`.
    """
    named = {e.attrib["id"]: e for e in root.iter() if "id" in e.attrib}
    known: dict[Element, tuple[int, int]] = {}

    def measured(element: Element, room: int) -> tuple[int, int]:
        """Shapes, and the levels below."""
        if element in known and known[element][1] <= room:
            return known[element]
        if room == 0:
            raise TooDeepError
        inner = [measured(one, room - 1) for one in (*element, *_referred(element, named))]
        known[element] = 1 + sum(n for n, _ in inner), 1 + max((d for _, d in inner), default=0)
        return known[element]

    return measured(root, deepest)[0]


def refers(key: str, value: str) -> bool:
    """Whether an attribute leads to other elements, by REFERENCE in its value."""
    return key.endswith("href") or "url(" in value


def _referred(element: Element, named: dict[str, Element]) -> Iterator[Element]:
    for key, value in element.attrib.items():
        if refers(key, value):
            yield from (named[name] for name in REFERENCE.findall(value) if name in named)
