"""The client's own judgment of a try beside what the helper heard, where the program asks for it
(`client_judges`). Pure."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from builder.model.record import Sitting
from builder.practice.figures.intervals import Rate


@dataclass(frozen=True)
class Judged:
    """How often the client judged as the helper heard: of the tries heard clear, and of those not
    heard clear, where almost and missed are one. A client who calls everything clear is right in
    all of the first and in none of the second. None where there was no such try."""

    clear: Rate | None
    other: Rate | None


def judged(sittings: Iterable[Sitting], steps: Collection[str]) -> Judged:
    """Of the tries of these steps that count and that the client judged."""
    made = [
        (trial.mark == "clear", trial.own == "clear")
        for sitting in sittings
        for trial in sitting.trials
        if trial.step in steps and trial.counts and trial.own
    ]
    right = [heard for heard, own in made if heard == own]
    heard_clear = sum(heard for heard, _ in made)
    return Judged(
        _rate(sum(right), heard_clear), _rate(len(right) - sum(right), len(made) - heard_clear)
    )


def _rate(right: int, of: int) -> Rate | None:
    return Rate(right, of) if of else None
