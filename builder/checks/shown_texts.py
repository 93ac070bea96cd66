"""Every text of a program that its pages, sheets or addresses show, with its place.

What is not known to be private counts as shown, so that a new key of the program file is looked at
from the day on which it is there.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from builder.model.program import Program
from builder.problems import KeyPath

# Keys whose values no page shows, or shows only as one of a few fixed words: of the program, and of
# a step or an item.
NOT_SHOWN = frozenset(
    {
        *("program", "age", "reads", "sound", "error", "lacks", "position", "mastered", "baseline"),
        *("current", "practice", "helper", "criteria", "misses", "voice", "because"),
        *("shape", "pause", "hear_yourself"),
    }
)
NOT_SHOWN_IN_STEPS = frozenset(
    {"level", "position", "cluster", "rounds", "vowels", "hold", "say", "picture"}
)
PRACTISED = ("steps", "words")
SOUND_LEVELS = ("isolation", "syllable")


@dataclass(frozen=True)
class ShownText:
    """A text with the place where it is written.

    prose: whole sentences to a helper, unlike what is practiced.
    sounds: sounds and syllables, which may look like a word and are none.
    """

    path: KeyPath
    text: str
    prose: bool
    sounds: bool


def shown_texts(program: Program) -> Iterator[ShownText]:
    """All texts of a program file that may be read by others, in the order of the model."""
    written = program.written
    for path, text in _texts(written.model_dump(by_alias=True), ()):
        practised = path[0] in ("client", *PRACTISED)
        sounds = (
            path[0] == "steps"
            and "items" in path
            and written.steps[int(path[1])].level in SOUND_LEVELS
        )
        yield ShownText(path, text, not practised, sounds)


def _texts(value: Any, path: KeyPath) -> Iterator[tuple[KeyPath, str]]:
    if isinstance(value, str):
        if value:
            yield path, value
    elif isinstance(value, Mapping):
        hidden = _hidden(path)
        for key, inner in value.items():
            if key not in hidden:
                yield from _texts(inner, (*path, key))
    elif isinstance(value, (tuple, list)):
        for at, inner in enumerate(value):
            yield from _texts(inner, (*path, at))


def _hidden(path: KeyPath) -> frozenset[str]:
    if not path:
        return NOT_SHOWN
    return NOT_SHOWN_IN_STEPS if path[0] in PRACTISED else frozenset()
