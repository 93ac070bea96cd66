"""Names for addresses and files, made from what a therapist wrote."""

from __future__ import annotations

import hashlib
import itertools
import re
import unicodedata
from collections.abc import Iterable, Iterator


def slug_of(text: str) -> str:
    """Lower-case letters, digits and single hyphens: `Two words!` gives `two-words`.

    A text without any of these (another script, an emoji) gets a short hash as its name.
    """
    folded = unicodedata.normalize("NFKD", text.lower()).encode("ascii", "ignore").decode()
    name = re.sub(r"[^a-z0-9]+", "-", folded.replace("'", "")).strip("-")
    return name[:40].strip("-") or "x" + hashlib.sha256(text.encode()).hexdigest()[:8]


def distinct(names: Iterable[str]) -> tuple[str, ...]:
    """The names in order, later doubles numbered: a, b, a gives a, b, a-2. None comes out twice."""
    result: list[str] = []
    for name in names:
        result.append(next(free for free in numbered(name) if free not in result))
    return tuple(result)


def numbered(name: str) -> Iterator[str]:
    """The name, then with a number: a, a-2, a-3."""
    return itertools.chain([name], (f"{name}-{n}" for n in itertools.count(2)))
