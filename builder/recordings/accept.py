"""What is used is said by whoever heard it: a proof lists those recordings that it plays and that
wait. Cuts of a long recording are accepted together, doubtful recordings by name."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path

from builder.problems import UsageError
from builder.recordings.file_names import move_beside
from builder.recordings.heard import add_heard
from builder.recordings.takes import (
    DOUBTFUL_FOLDER,
    UNHEARD_FOLDER,
    Take,
    TakeState,
    files_of,
    name_of,
    wrong_files,
)
from builder.text.slugs import whole_slug
from builder.workspace.store import digest_of

PLAYED_LIST = "played.json"  # in the folder of a proof: the digests of what it plays and waits

Waiting = tuple[Path, Path]  # the file, and the folder of recordings that it belongs to


def played_list(takes: Iterable[Take]) -> str:
    """The text of the list."""
    return json.dumps(sorted({take.digest for take in takes if take.waits}))


def accept(proof: Path, takes: Iterable[Path], right: Iterable[str] = ()) -> tuple[Path, ...]:
    """From now on use what the proof plays: the cuts in the unheard/ of each folder of recordings,
    which move into the folder itself, and the doubtful recordings named in `right`.

    Gives where they lie now. Raises UsageError when there is no proof, or it plays none of a name.
    A file of that name stays: the new one gets a number.
    """
    played, folders = _played(proof), tuple(takes)
    named = _named(proof, folders, played, right)
    unheard = (one for one in _files(folders, "unheard") if digest_of(one[0]) in played)
    moved = tuple(_used(*one) for one in unheard if one not in named)
    called_right = tuple((_used(*one), one[1]) for one in named)
    for folder in folders:
        add_heard(folder, (file for file, home in called_right if file and home == folder))
    return tuple(file for file in (*moved, *(file for file, _ in called_right)) if file)


def _used(file: Path, folder: Path) -> Path | None:
    """Where the file lies once it is used; None when another program has moved it."""
    cut = file.parent in (folder / UNHEARD_FOLDER, folder / DOUBTFUL_FOLDER)
    return move_beside(file, folder) if cut else file


def _played(proof: Path) -> set[str]:
    """The digests of what a proof plays and is not used yet."""
    try:
        return set(json.loads((proof / PLAYED_LIST).read_text("utf-8")))
    except (OSError, ValueError, TypeError) as error:
        raise UsageError(
            f"{proof}: there is no proof here; make one, listen to it, then say that you did."
        ) from error


def _files(folders: Iterable[Path], state: TakeState) -> tuple[Waiting, ...]:
    return tuple((file, folder) for folder in folders for file in files_of(folder, state))


def _named(
    proof: Path, folders: tuple[Path, ...], played: set[str], right: Iterable[str]
) -> tuple[Waiting, ...]:
    """The waiting recordings with one of the names; UsageError when there is none of a name."""
    names = {whole_slug(name) for name in right}
    if not names:
        return ()
    states: tuple[TakeState, ...] = ("accepted", "unheard", "doubtful")
    there = [one for state in states for one in _files(folders, state)]
    there += [(file, folder) for folder in folders for file in wrong_files(folder)]
    waiting = {one: name_of(one[0]) for one in there if digest_of(one[0]) in played}
    found = {one: whole_slug(name) for one, name in waiting.items() if whole_slug(name) in names}
    if missing := names - set(found.values()):
        raise UsageError(
            f"{proof}: this proof plays no doubtful recording named "
            f"{' or '.join(sorted(missing))}. "
            f"It plays: {', '.join(sorted(waiting.values())) or 'none'}. A file that is newer than "
            "the proof is played by the next one: make the proof again."
        )
    return tuple(found)
