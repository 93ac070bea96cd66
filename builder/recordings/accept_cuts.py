"""Cuts of a long recording are used once somebody has heard them: a proof lists those it plays, and
whoever has heard them says so."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path

from builder.problems import UsageError
from builder.recordings.takes import Take, cuts
from builder.text.slugs import numbered, slug_of
from builder.workspace.store import digest_of

PLAYED_LIST = "cuts.json"  # in the folder of a proof: the digests of the cuts that it plays


def played_list(takes: Iterable[Take]) -> str:
    """The text of the list."""
    return json.dumps(sorted({take.digest for take in takes}))


def accept(proof: Path, takes: Iterable[Path], right: Iterable[str] = ()) -> tuple[Path, ...]:
    """Move the cuts that the proof plays out of the unheard/ of each folder of recordings into the
    folder itself, where they are used; of those in doubtful/ the ones named in `right`.

    Raises UsageError when there is no proof that plays any, or none of a name. A file of that name
    stays: the new one gets a number.
    """
    try:
        known = set(json.loads((proof / PLAYED_LIST).read_text("utf-8")))
    except (OSError, ValueError, TypeError) as error:
        raise UsageError(
            f"{proof}: no proof was made here; make it, hear it, then say that you did."
        ) from error
    folders, names = tuple(takes), {slug_of(name) for name in right}
    doubtful = [(file, to) for to in folders for file in cuts(to, "doubtful")]
    chosen = [(file, to) for file, to in doubtful if slug_of(file.stem) in names]
    played = [(file, to) for file, to in chosen if digest_of(file) in known]
    if missing := names - {slug_of(file.stem) for file, _ in played}:
        raise UsageError(
            f"{proof}: it plays no doubtful cut named {' or '.join(sorted(missing))}; there are: "
            f"{', '.join(sorted(file.stem for file, _ in doubtful)) or 'none'}."
        )
    heard = [(file, to) for to in folders for file in cuts(to, "unheard")]
    heard = [(file, to) for file, to in heard if digest_of(file) in known]
    return tuple(_move(file, to) for file, to in (*heard, *played))


def _move(file: Path, to: Path) -> Path:
    places = (to / f"{name}{file.suffix}" for name in numbered(file.stem))
    return file.rename(next(place for place in places if not place.exists()))
