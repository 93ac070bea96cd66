"""What a family and the therapist wrote, without what tells who somebody is. Pure."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from builder.model.program import Role
from builder.practice.figures.client_log import ClientLog
from builder.text.identifiers import Kind, identifiers

LEFT_OUT = "[…]"
TELLING: tuple[Kind, ...] = ("name", "email", "web", "telephone", "number", "place")
"""What is left out; days and diagnoses stand in the record anyway."""


@dataclass(frozen=True)
class Note:
    """Words of a day. who: who listened at home, or "you" for the therapist."""

    day: datetime.date
    who: Role | str
    text: str


def notes_of(log: ClientLog) -> tuple[Note, ...]:
    """All notes by day, the family's first."""
    return tuple(sorted(_notes(log), key=lambda one: (one.day, one.who == "you")))


def _notes(log: ClientLog) -> Iterator[Note]:
    for one in log.notes:
        yield Note(one.day, one.helper, discreet(one.text))
    hers: Iterable[tuple[datetime.date, str]] = (
        *((score.date, score.note) for score in log.visit_scores),
        *((note.date, note.note) for note in log.visit_notes),
    )
    for day, text in dict.fromkeys(hers):
        if text:
            yield Note(day, "you", discreet(text))


def discreet(text: str) -> str:
    """A text on one line, without signs that steer a terminal, with LEFT_OUT for each name, number
    or place that is found in it. Rare names pass."""
    line = "".join(sign for sign in " ".join(text.split()) if sign.isprintable())
    for kind, words in identifiers(line, prose=True):
        if kind in TELLING:
            line = line.replace(words, LEFT_OUT)
    return line
