"""The practice record: what a tablet keeps of one sitting. The same shape stands in types.d.ts.

Nothing here is ever published; it leaves the tablet only when the family sends it.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from builder.model.clinic import Strict, Time
from builder.model.program import Form, Role, Support
from builder.workspace.addresses import SLUG_PATTERN

Mark = Literal["clear", "almost", "missed", "not_tried"]
MARKS: tuple[Mark, ...] = ("clear", "almost", "missed", "not_tried")
End = Literal["", "done", "time", "enough", "hard"]
ENDS: tuple[End, ...] = ("", "done", "time", "enough", "hard")
Name = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=80)]

CONTRAST = "contrast"
"""Stands in the id of each contrast round, of one that only imitates too (planning writes it)."""

SLUG = f"^{SLUG_PATTERN}$"
# A local time with its zone, to the second: 2026-12-07T08:15:00-06:00. A pattern, since a bare
# number must never turn into a date.
START = r"^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}[+-]\d{2}:\d{2}$"


def _absent(value: object) -> bool:
    return value is None


class Trial(Strict):
    """One item said once and marked, or passed over (`not_tried`: no trial, no judgment).

    In a contrast round `item` is the word that was chosen, with the target or not, and the mark
    is clear when it was the word that was heard, else missed. `chosen` and `heard` stand there
    only, and not where nothing was tried.
    """

    step: Name = Field(description="The step's id.")
    round: Name = Field(description="The round's id within the step.")
    item: Name = Field(description="The item's id.")
    form: Form = Field(description="The form that was asked for.")
    support: Support = Field(description="The support really given, not the one planned.")
    mark: Mark = Field(description="What was heard, by the sitting's helper.")
    ms: int = Field(ge=0, description="Milliseconds since the start of the sitting.")
    chosen: Name | None = Field(
        None, exclude_if=_absent, description="Contrast: the word that the client chose and said."
    )
    heard: Name | None = Field(
        None, exclude_if=_absent, description="Contrast: the word that was heard."
    )
    repeat: bool | None = Field(
        None,
        exclude_if=_absent,
        description="True: the item said once more after a miss; no figure counts it.",
    )
    own: Mark | None = Field(
        None,
        exclude_if=_absent,
        description="What the client judged before the helper did, where the program asks for it.",
    )

    @property
    def counts(self) -> bool:
        """Whether it is a try in a clear-rate or a dose: not what was passed over, nor what was
        said once more after a miss, nor a choice between two words, of which one is said without
        the target."""
        return is_try(self.mark, self.round, self.chosen, self.repeat)


def is_try(mark: str, round_: str, chosen: str | None, repeat: object) -> bool:
    """`Trial.counts` of a trial that is a row of the log, where a truth value is a number."""
    contrast = chosen is not None or CONTRAST in round_.split("-")
    return mark != "not_tried" and not repeat and not contrast


class Tally(Strict):
    """Targets counted inside one text or talk: past sentences they stand in the place of trials.

    Nothing is taken for right because nobody tapped: without a confirmed number of slips, none
    included, there is no figure.
    """

    step: Name = Field(description="The step's id.")
    words: int | None = Field(
        None, ge=0, description="Reading: words up to the place that was marked as the end."
    )
    targets: int | None = Field(
        None, ge=0, description="Targets said: of a reading, those up to that place."
    )
    slipped: int | None = Field(
        None, ge=0, description="Of these not clear, as the helper confirmed; null: not confirmed."
    )
    later: bool = Field(False, description="Entered after the talk, from memory.")
    ms: int = Field(ge=0, description="Milliseconds since the start of the sitting.")

    @model_validator(mode="after")
    def _no_more_slips_than_targets(self) -> Self:
        if self.targets is not None and (self.slipped or 0) > self.targets:
            raise ValueError("more slips than targets")
        return self

    @property
    def confirmed(self) -> bool:
        """Whether both numbers are known, so that a figure may be made of it."""
        return self.targets is not None and self.slipped is not None


class Sitting(Strict):
    """One practice at home, written anew after every mark."""

    record: Literal[1] = Field(description="The version of this format.")
    id: str = Field(pattern=r"^[0-9a-f]{32}$", description="Random; a record read twice is one.")
    site: str = Field(pattern=SLUG, description="The slug of the client's site.")
    plan: str = Field(pattern=r"^[0-9a-f]{8,64}$", description="Hash of the published plan.")
    practice: str = Field(
        "",
        pattern=r"^([0-9a-f]{8,64})?$",
        description="Hash of what is practiced, clips aside: it says whether a sitting goes on.",
    )
    start: str = Field(pattern=START, description="When it began, local time with its zone.")
    time: Time = Field(description="Which sitting of the day.")
    helper: Role = Field(
        description="Who listened and marked, by role; self: the client's own marks."
    )
    trials: tuple[Trial, ...] = Field((), max_length=5000, description="In the order made.")
    tallies: tuple[Tally, ...] = Field(
        (), max_length=100, description="Past sentences: of each text or talk, in the order made."
    )
    note: str = Field("", max_length=280, description="A few words of the family.")
    began: int = Field(
        0, ge=0, le=5000, description="With which of the planned tries it began: 0 the first."
    )
    done: int = Field(0, ge=0, le=5000, description="Planned tries gone through from there.")
    end: End = Field(
        "",
        description="How it ended: all of it done, the minutes used, enough for today, too hard; "
        "empty while it goes on, or where it was left.",
    )

    @model_validator(mode="after")
    def _is_a_time(self) -> Self:
        self.started  # noqa: B018 - raises ValueError for a 31st of February
        return self

    @property
    def started(self) -> datetime.datetime:
        """The start as a moment with its zone."""
        return datetime.datetime.fromisoformat(self.start)


def union(sittings: Iterable[Sitting]) -> tuple[Sitting, ...]:
    """Every sitting once, oldest first. Of two copies the one with more trials is the later one,
    then the one with more tallies, with more of them confirmed, with more gone through, with an
    end, with a note, then the one given later."""
    latest: dict[str, Sitting] = {}
    for sitting in sittings:
        known = latest.get(sitting.id)
        if known is None or _told(sitting) >= _told(known):
            latest[sitting.id] = sitting
    return tuple(sorted(latest.values(), key=lambda s: (s.started, s.id)))


def _told(sitting: Sitting) -> tuple[int, int, int, int, bool, bool]:
    """How much a copy holds. The same rule as in record.js, for the tablet's own copies."""
    confirmed = sum(tally.confirmed for tally in sitting.tallies)
    return (
        len(sitting.trials),
        len(sitting.tallies),
        confirmed,
        sitting.done,
        bool(sitting.end),
        bool(sitting.note),
    )


@dataclass(frozen=True)
class Count:
    """Tries of one step in one sitting, and how many of them were clear."""

    clear: int = 0
    tries: int = 0

    def plus(self, clear: int, tries: int) -> Count:
        """The same with more of them."""
        return Count(self.clear + clear, self.tries + tries)


def counts_by_step(sitting: Sitting) -> dict[str, Count]:
    """Clear tries and all tries of each step, by its id: of trials those that count, of tallies
    those that are confirmed, each target one try. A step without any is not there."""
    found: dict[str, Count] = {}
    for trial in sitting.trials:
        if trial.counts:
            before = found.get(trial.step, Count())
            found[trial.step] = before.plus(int(trial.mark == "clear"), 1)
    for tally in sitting.tallies:
        if tally.targets and tally.slipped is not None:
            before = found.get(tally.step, Count())
            found[tally.step] = before.plus(tally.targets - tally.slipped, tally.targets)
    return found
