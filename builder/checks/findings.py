"""How a check says what it found: the rule gives the degree, the program gives the place."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from builder.checks.items import OF_ITEMS, is_published
from builder.checks.rules import RULES
from builder.model.program import Program
from builder.problems import Finding, KeyPath, not_yet
from builder.text.several import joined


def finding(program: Program, path: KeyPath, rule: str, sentence: str, remedy: str) -> Finding:
    """A finding by `rule` at `path` of a program's file; of items that the site does not show yet
    it is advice."""
    found = Finding(program.place(path), rule, RULES[rule].degree, sentence, remedy)
    waits = rule in OF_ITEMS and found.degree == "fault" and not is_published(program, path)
    return not_yet(found) if waits else found


def listed(words: Iterable[str], most: int = 6) -> str:
    """Words in a sentence: "key, cow and cup"; after `most` the rest is counted."""
    names = list(dict.fromkeys(words))
    if len(names) > most:
        names = [*names[: most - 1], f"{len(names) - most + 1} more"]
    return joined(names)


def quoted(words: Iterable[str], most: int = 6) -> str:
    """The same with each in quotation marks: "'key', 'cow' and 'cup'"."""
    return listed((f"'{word}'" for word in words), most)


def verb(words: Sequence[str], one: str, many: str) -> str:
    """The verb that goes with a list of words: holds, hold."""
    return one if len(words) == 1 else many
