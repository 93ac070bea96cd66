"""The items of a program: each once, and which of them the site shows."""

from __future__ import annotations

from collections.abc import Iterator

from builder.model.program import Item, Program, Step
from builder.model.spoken import Spoken
from builder.problems import KeyPath

WORD_LEVELS = ("word", "phrase", "sentence")
OF_ITEMS = frozenset(
    {
        *("sound", "items", "pronunciation", "no-target", "position", "cluster", "not-cluster"),
        *("syllable", "practiced-word", "contrast-pair", "contrast-target", "contrast-picture"),
        "alone-contrast",
        *("picture-missing", "picture-file", "disputed", "passage", "situation"),
        *("name", "birth-date", "telephone", "email", "record-number", "web-address", "school"),
        "diagnosis",
    }
)
"""The rules on what a step practices: items, their pronunciations, their pictures, who is named in
them. What they find is advice while the step is not published."""


def new_items(program: Program, *, pairs: bool = False) -> Iterator[tuple[Step, list[Item]]]:
    """Every step with those of its items that no earlier step has; a list may serve several.

    pairs: words that are in contrast pairs only count as well.
    """
    seen: set[tuple[str | int, ...]] = set()
    for step in program.steps:
        new = [item for item in (step.said if pairs else step.items) if item.path not in seen]
        seen.update(item.path for item in new)
        yield step, new


def is_published(program: Program, path: KeyPath) -> bool:
    """Whether the site shows what is at `path`; what belongs to no step, it does."""
    if path[:1] not in (("steps",), ("words",)):
        return True
    shown = (own for s in program.published_steps for own in (s.path, *(i.path for i in s.said)))
    return any(own[: len(path)] == path[: len(own)] for own in shown)


def words_in_sentence_case(item: Item) -> list[tuple[str, Spoken]]:
    """The words of an item, each with its text as it would stand inside a sentence."""
    several = len(item.words) > 1
    return [
        (word.text if at or not several else word.text.lower(), word)
        for at, word in enumerate(item.words)
    ]
