"""What a recording file is called: which item a name means, a name that is free, a move to it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from builder.recordings.prompts import short_stem
from builder.text.slugs import numbered, whole_slug
from builder.workspace.store import move_new

NUMBER_SUFFIX = re.compile(r"-[0-9]+$")


def matching_stem(stem: str, stems: set[str]) -> str:
    """The stem of what is to be said that a file's stem means: itself, or without its number; ""
    for none. A phrase may end in a number of its own (`bus 7`), so the whole name goes first.

    The short stem of a long sentence counts where no other sentence begins alike.
    """
    plain = NUMBER_SUFFIX.sub("", stem)
    if found := next((known for known in (stem, plain) if known in stems), ""):
        return found
    alike = [known for known in stems if short_stem(known) == plain]
    return alike[0] if len(alike) == 1 else ""


def free_name(folder: Path, stem: str, stems: Iterable[str]) -> str:
    """`stem`, or with a number, as no recording of the folder and nothing else that is to be said
    (`stems`) is called: `bus-7` may be a phrase."""
    there = folder.iterdir() if folder.is_dir() else ()
    taken = {whole_slug(file.stem) for file in there} | (set(stems) - {stem})
    return next(name for name in numbered(stem) if name not in taken)


def move_beside(file: Path, folder: Path) -> Path | None:
    """Move a recording into a folder, numbered where its name is taken, however lately; its place.

    None when another program has moved it already. Raises OSError.
    """
    names = numbered(file.stem)
    while True:
        place = folder / (next(names) + file.suffix)
        try:
            move_new(file, place)
        except FileExistsError:
            continue
        except FileNotFoundError:
            return None
        return place
