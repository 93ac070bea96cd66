"""Probe words: kept out of practice, for the therapist's own test of what carries over.

They stay apart without any list of them: a keyed hash of sound and word says of every word whether
it is one, always and on every machine the same. What offers or drafts words leaves them out.
"""

from __future__ import annotations

import hashlib

from builder.phonetics.inventory import Sound

ONE_IN = 6  # of all words


def is_probe(word: str, sound: Sound) -> bool:
    """Whether `word` is kept apart as a probe of `sound`; never offer or draft it."""
    digest = hashlib.sha256(f"probe {sound.symbol} {word.lower()}".encode()).digest()
    return int.from_bytes(digest[:4]) % ONE_IN == 0
