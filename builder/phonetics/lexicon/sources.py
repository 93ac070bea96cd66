"""Where each source of words and pronunciations lies: package, files, voice (data/*_sources.csv).
The packages themselves are not imported: many load much else, and their files are enough."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from builder.packages import place
from builder.phonetics.tables import rows


@dataclass(frozen=True)
class Source:
    """One source.

    package: as it is installed; module: as it is imported.
    files:   what is read of it, under the folder of the module (of an engine: of its data).
    voice:   the engine's name of the language, "" where the source is no engine.
    stress:  parts of speech that say how a small word is stressed, not what it means.
    """

    package: str
    module: str
    files: tuple[str, ...]
    voice: str
    stress: tuple[str, ...]


@cache
def sources(language: str = "en") -> dict[str, Source]:
    """All sources of a language by their role: dictionary, tagged dictionary, letter-to-sound
    rules, frequencies."""
    return {
        row["role"]: Source(
            row["package"],
            row["module"],
            tuple(row["files"].split()),
            row["voice"],
            tuple(row["stress"].split()),
        )
        for row in rows("sources", language)
    }


def file(role: str, part: int = 0) -> Path:
    """One file of a source. Raises FileNotFoundError when the package is not installed."""
    return folder(role) / sources()[role].files[part]


@cache
def installed(role: str) -> bool:
    """Whether the package of a source is there: not every one has a release for every Python."""
    return place(sources()[role].module) is not None


def folder(role: str) -> Path:
    """Where a source's module lies. Raises FileNotFoundError when it is not installed."""
    source = sources()[role]
    if found := place(source.module):
        return found
    raise FileNotFoundError(2, f"a source of words ({role}) is not installed", source.package)
