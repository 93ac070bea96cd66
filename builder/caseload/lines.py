"""A row as it is shown, in texts. Pure."""

from __future__ import annotations

from datetime import date

from builder.caseload.rows import Row, short
from builder.practice.figures.practiced import Days
from builder.practice.figures.proposal.move import Proposal
from builder.text.several import several

HEADINGS = ("client", "sounds", "step", "since", "last", "next", "practiced", "proposal", "waits")
NONE = "-"


def cells(row: Row, day: date) -> tuple[str, ...]:
    """What stands under HEADINGS; day: today."""
    written = row.facts.written
    return (
        row.code,
        ", ".join(written.sounds) or NONE,
        ", ".join(written.steps) or NONE,
        _short(row.since, day),
        _short(row.last, day),
        f"{row.next:%a} {_short(row.next, day)}" if row.next else NONE,
        _practiced(row.practiced) if row.practiced else NONE,
        moves(row),
        ", ".join(row.waits) or NONE,
    )


def moves(row: Row, too_little: str = NONE) -> str:
    """The proposals, each in a word: "on", "stay", "back", "ready", or how often to practice from
    now on; `too_little` where there is too little to say."""
    found = (_move(one) or too_little for one in row.facts.proposals)
    return ", ".join(dict.fromkeys(found)) or too_little


def _move(one: Proposal) -> str:
    if one.ready:
        return "ready"
    if one.move == "too little":
        return ""
    return one.schedule if one.schedule and one.move == "on" else one.move


def _practiced(days: Days) -> str:
    """As in "6 of 10 days"; "+ 1": on so many others."""
    if not days.planned:
        return f"{several(days.besides, 'day')}, none planned"
    told = f"{days.practiced} of {several(days.planned, 'day')}"
    return f"{told} + {days.besides}" if days.besides else told


def _short(day: date | None, today: date) -> str:
    return short(day, today) if day else NONE
