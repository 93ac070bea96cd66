"""Counts that a family wrote on the sheet: one a planned sitting, "right __ of __". Pure."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from builder.model.clinic import Time
from builder.model.practice_view import PracticeView
from builder.model.program import Role

MOST_TRIES = 500  # of a sitting
DONE = "x"  # the box is ticked, and nothing was counted
REMOVED = "-"
SLIPS = re.compile(r"(?:(.*?)[\s,+]+)?(\d{1,3})\s*slips?", re.IGNORECASE | re.ASCII)
RIGHT_OF = re.compile(r"(\d{1,4})\s*(?:of|/|\s)\s*(\d{1,4})", re.IGNORECASE | re.ASCII)


@dataclass(frozen=True)
class PaperCount:
    """One box of a sheet. plan: digest of the plan that was practiced; step: the one that it tells
    of, "" where several are practiced together; tries: 0 where the box is only ticked; helper:
    whose sheet it is, "" where nobody said; slips: in texts and talks, None where nobody counted:
    paper does not say how far a text was read, so they have no rate."""

    site: str
    day: datetime.date
    time: Time
    plan: str
    step: str
    clear: int
    tries: int
    helper: Role | Literal[""] = ""
    slips: int | None = None


def boxes(
    days: Iterable[datetime.date], times: Sequence[Time]
) -> Iterator[tuple[datetime.date, Time]]:
    """The boxes of these days in the order of the sheet."""
    return ((day, time) for day in days for time in times)


def read_box(text: str, has_text: bool, has_words: bool = True) -> tuple[int, int, int | None]:
    """(clear, tries, slips) of what was typed for a box: a count, slips of a text behind it or
    alone, as in "17 of 20, 3 slips". has_text: whether a text or talk is practiced; has_words:
    whether anything else is. Raises ValueError with what to type."""
    found = SLIPS.fullmatch(text.strip())
    count = found[1] if found else text.strip()
    if found and not has_text:
        raise ValueError("No text or talk was practiced then, so there are no slips.")
    if not has_words and (count or DONE).lower() != DONE:
        raise ValueError("Texts and talks alone were practiced then. Type it as in `3 slips`.")
    return *(read_answer(count) if count else (0, 0)), int(found[2]) if found else None


def read_answer(text: str) -> tuple[int, int]:
    """(clear, tries) of what was typed for a box, as in "17 of 20", "17/20" or "17 20"; (0, 0) for
    one that is only ticked. Raises ValueError with what to type."""
    if text.strip().lower() == DONE:
        return 0, 0
    count = right_of(text)
    if not count:
        raise ValueError("This is no count. Type it as in `17 of 20`.")
    clear, tries = count
    if clear > tries:
        raise ValueError(f"{clear} right of {tries} cannot be.")
    if not 0 < tries <= MOST_TRIES:
        raise ValueError(f"A sitting has 1 to {MOST_TRIES} tries.")
    return clear, tries


def right_of(text: str) -> tuple[int, int] | None:
    """(right, of) of what was typed, as in "17 of 20", "17/20" or "17 20", whether it can be or
    not; None for anything else."""
    found = RIGHT_OF.fullmatch(text.strip())
    return (int(found[1]), int(found[2])) if found else None


def has_text(view: PracticeView | None) -> bool:
    """Whether a text or a talk is practiced, of which a sheet asks for the slips."""
    programs = view.programs if view else ()
    return any(step.current and step.passage for one in programs for step in one.steps)


def has_words(view: PracticeView | None) -> bool:
    """Whether anything but texts and talks is practiced, of which a sheet asks for a count."""
    return view is None or any(
        step.current and not step.passage for one in view.programs for step in one.steps
    )


def step_told_of(view: PracticeView) -> str:
    """The step that a count on paper tells of: the one that is practiced; "" where there are
    several."""
    steps = [
        step.id
        for program in view.programs
        for step in program.steps
        if step.current and not step.passage
    ]
    return steps[0] if len(steps) == 1 else ""
