"""Cuts of a long recording are used once somebody has heard them: a proof lists those it plays, and
whoever has heard them says so."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path

from builder.problems import UsageError
from builder.recordings.takes import Take, TakeState, cuts, move_beside
from builder.text.slugs import whole_slug
from builder.workspace.store import digest_of

PLAYED_LIST = "cuts.json"  # in the folder of a proof: the digests of the cuts that it plays

Cut = tuple[Path, Path]  # the file, and the folder of recordings that it is cut for


def played_list(takes: Iterable[Take]) -> str:
    """The text of the list."""
    return json.dumps(sorted({take.digest for take in takes}))


def accept(proof: Path, takes: Iterable[Path], right: Iterable[str] = ()) -> tuple[Path, ...]:
    """Move the cuts that the proof plays out of the unheard/ of each folder of recordings into the
    folder itself, where they are used; of those in doubtful/ the ones named in `right`.

    Raises UsageError when there is no proof that plays any, or none of a name. A file of that name
    stays: the new one gets a number.
    """
    played, folders = _played(proof), tuple(takes)
    unheard = (cut for cut in _cuts(folders, "unheard") if digest_of(cut[0]) in played)
    accepted = (*unheard, *_doubtful(proof, folders, played, right))
    places = (move_beside(file, folder) for file, folder in accepted)
    return tuple(place for place in places if place)


def _played(proof: Path) -> set[str]:
    """The digests of the cuts that a proof plays."""
    try:
        return set(json.loads((proof / PLAYED_LIST).read_text("utf-8")))
    except (OSError, ValueError, TypeError) as error:
        raise UsageError(
            f"{proof}: there is no proof here; make one, listen to it, then say that you did."
        ) from error


def _cuts(folders: Iterable[Path], state: TakeState) -> tuple[Cut, ...]:
    return tuple((file, folder) for folder in folders for file in cuts(folder, state))


def _doubtful(
    proof: Path, folders: tuple[Path, ...], played: set[str], right: Iterable[str]
) -> tuple[Cut, ...]:
    """The doubtful cuts with one of the names that the proof plays; UsageError without one."""
    names, there = {whole_slug(name) for name in right}, _cuts(folders, "doubtful")
    named = (cut for cut in there if whole_slug(cut[0].stem) in names)
    found = tuple(cut for cut in named if digest_of(cut[0]) in played)
    if missing := names - {whole_slug(file.stem) for file, _ in found}:
        raise UsageError(
            f"{proof}: this proof plays no doubtful cut named {' or '.join(sorted(missing))}. "
            f"Doubtful cuts: {', '.join(sorted(file.stem for file, _ in there)) or 'none'}."
        )
    return found
