"""Names for addresses and files, made from what a therapist wrote."""

from __future__ import annotations

import hashlib
import itertools
import re
import unicodedata
from collections.abc import Iterable, Iterator
from functools import lru_cache

MAX_SLUG, MAX_STEM = 40, 100  # letters of a name in addresses, and of a recording's file


def slug_of(text: str) -> str:
    """Lower-case letters, digits and single hyphens, at most MAX_SLUG: `Two words!` gives
    `two-words`.

    A text without any of these (another script, an emoji) gets a short hash as its name.
    """
    return cut(whole_slug(text))


@lru_cache(maxsize=1 << 14)
def whole_slug(text: str) -> str:
    """The same, however long it is."""
    folded = unicodedata.normalize("NFKD", text.lower()).encode("ascii", "ignore").decode()
    name = re.sub(r"[^a-z0-9]+", "-", folded.replace("'", "")).strip("-")
    return name or f"x{_hash(text)}"


def cut(slug: str) -> str:
    """At most MAX_SLUG letters of a name."""
    return slug[:MAX_SLUG].strip("-")


def stem_of(text: str) -> str:
    """The name of a file about a text: texts that begin alike keep names of their own."""
    name = whole_slug(text)
    return name if len(name) <= MAX_STEM else f"{cut(name)}-{_hash(text)}"


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:8]


def distinct(names: Iterable[str]) -> tuple[str, ...]:
    """The names in order, later doubles numbered: a, b, a gives a, b, a-2. None comes out twice."""
    taken: dict[str, Iterator[str]] = {}  # each name with the numbered ones that come next
    for name in names:
        free = taken.get(name) or numbered(name)
        new = next(one for one in free if one not in taken)
        taken[new] = numbered(new)
        taken[name] = free
    return tuple(taken)


def numbered(name: str) -> Iterator[str]:
    """The name, then with a number: a, a-2, a-3."""
    return itertools.chain([name], (f"{name}-{n}" for n in itertools.count(2)))
