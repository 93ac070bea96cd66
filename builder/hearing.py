"""Cuts of a long recording are used once somebody has heard them: a proof lists those it plays, and
whoever has heard them says so."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path

from builder.names import numbered
from builder.problems import UsageError
from builder.store import digest_of
from builder.takes import Take, unheard

LIST = "unheard.json"  # in the folder of a proof: the digests of the cuts that it plays


def listed(takes: Iterable[Take]) -> str:
    """The text of the list."""
    return json.dumps(sorted({take.digest for take in takes}))


def accept(proof: Path, takes: Iterable[Path]) -> tuple[Path, ...]:
    """Move the cuts that the proof plays out of the unheard/ of each folder of recordings into the
    folder itself, where they are used.

    Raises UsageError when there is no proof that plays any. A file of that name stays: the new one
    gets a number.
    """
    try:
        known = set(json.loads((proof / LIST).read_text("utf-8")))
    except (OSError, ValueError, TypeError) as error:
        raise UsageError(
            f"{proof}: no proof was made here; make it, hear it, then say that you did."
        ) from error
    cuts = [(file, folder) for folder in takes for file in unheard(folder)]
    return tuple(_moved(file, to) for file, to in cuts if digest_of(file) in known)


def _moved(file: Path, to: Path) -> Path:
    places = (to / f"{name}{file.suffix}" for name in numbered(file.stem))
    return file.rename(next(place for place in places if not place.exists()))
