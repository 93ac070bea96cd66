"""Sittings -> tries, each with the day, the step's level and the support that was really given.

What counts in a figure is decided here, once: nothing that was passed over, nothing said once more
after a miss, nothing of a contrast round (a pair has its own figure, `pairs`). Almost is not clear.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal, NamedTuple

from builder.model.practice_view import PracticeView, StepView
from builder.model.program import Level, Role, Support
from builder.model.record import Sitting
from builder.practice.log.counts import Counted
from builder.practice.log.paper import PaperCount

View = Callable[[str, str], PracticeView | None]
"""The kept view of a site's plan, by both their names."""


@dataclass(frozen=True)
class Tries:
    """Tries alike: one word said once, or all targets of a text, or all that was counted on paper
    in a sitting; these two have no word (item "").

    level: None where the plan is not known. support: None on paper, which does not say it.
    helper: who listened; "" on paper where nobody said. sitting: "" on paper.
    """

    day: datetime.date
    sitting: str
    step: str
    level: Level | None
    support: Support | None
    item: str
    clear: int
    tries: int
    helper: Role | Literal[""] = ""


class Slips(NamedTuple):
    """Slips in one text or talk, or in one box of paper."""

    source: Literal["tablet", "paper"]
    day: datetime.date
    number: int


def tries_of(sittings: Iterable[Sitting], view: View) -> tuple[Tries, ...]:
    """All tries that count, in the order made; those of texts after the words of their sitting.

    Of a text each target is a try without a model, once a helper confirmed how many slipped.
    """
    return tuple(one for sitting in sittings for one in _tries(sitting, view))


def _tries(sitting: Sitting, view: View) -> Iterator[Tries]:
    steps = steps_of(view(sitting.site, sitting.plan))
    day = day_of(sitting)
    for trial in sitting.trials:
        step = steps.get(trial.step)
        if trial.counts:
            yield Tries(
                day,
                sitting.id,
                trial.step,
                step.level if step else None,
                trial.support,
                trial.item,
                int(trial.mark == "clear"),
                1,
                sitting.helper,
            )
    for tally in sitting.tallies:
        if tally.targets and tally.slipped is not None:
            step = steps.get(tally.step)
            yield Tries(
                day,
                sitting.id,
                tally.step,
                step.level if step else None,
                "spontaneous",
                "",
                tally.targets - tally.slipped,
                tally.targets,
                sitting.helper,
            )


def tries_on_paper(counts: Iterable[Counted], view: View) -> tuple[Tries, ...]:
    """What was counted on paper alone (`log.counts`), where it tells of one step."""
    return tuple(
        Tries(one.day, "", one.step, _level(one, view), None, "", one.clear, one.tries, one.helper)
        for one in counts
        if one.source == "paper" and one.step
    )


def slips_of(sittings: Iterable[Sitting], papers: Iterable[PaperCount]) -> tuple[Slips, ...]:
    """Slips of which nobody knows how many targets there were, so that they are in no rate: of
    what was told or talked, and all of paper."""
    counted = (
        Slips("tablet", day_of(sitting), tally.slipped)
        for sitting in sittings
        for tally in sitting.tallies
        if tally.targets is None and tally.slipped is not None
    )
    written = (Slips("paper", one.day, one.slips) for one in papers if one.slips is not None)
    return (*counted, *written)


def _level(one: Counted, view: View) -> Level | None:
    step = steps_of(view(one.site, one.plan)).get(one.step)
    return step.level if step else None


def day_of(sitting: Sitting) -> datetime.date:
    """The day on which it began, where the family lives."""
    return datetime.date.fromisoformat(sitting.start[:10])


def steps_of(view: PracticeView | None) -> dict[str, StepView]:
    """The steps of a view by id; none of a plan that is not known."""
    return {step.id: step for program in view.programs for step in program.steps} if view else {}
