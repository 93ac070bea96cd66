"""Whether a stranger's sitting can be understood: whose it is, by which plan, and whether its day
and its numbers can be. Pure."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from builder.model.practice_view import PracticeView, StepView
from builder.model.record import Sitting, Tally, Trial

FIRST_DAY = datetime.date(2026, 1, 1)  # no site was published before
A_DAY_MS = 24 * 3600 * 1000
MOST_COUNTED = 10_000  # words or targets of one text or talk; an hour of reading has some 9,000
A_TEXT = "text"  # the round, and the item, of a step that has none (tasks.js)

FOREIGN = "no client of this practice folder has this address"
NO_PLAN = "no plan of this client is kept here, as after `practice-site log forget`"
UNKNOWN_PLAN = "its plan is not kept in this practice folder"
OTHER_WORDS = "it names {name}, which its plan does not have"
TO_COME = "its day, {day}, is still to come"
TOO_OLD = "its day, {day}, is before any site was published"
TOO_LONG = "a try of it lies more than a day after its start"
TOO_MANY = "it counts more than {most} words or targets in one text"
CONTRADICTS = "a different sitting with the same mark is in the log already"


@dataclass(frozen=True)
class Known:
    """What a sitting is held against. codes: of all clients by site; view: of a site's plan;
    has_plans: whether any plan of a site is kept; kept_on: since when a site's plan is."""

    codes: Mapping[str, str]
    view: Callable[[str, str], PracticeView | None]
    today: datetime.date
    has_plans: Callable[[str], bool] = lambda _site: True
    kept_on: Callable[[str, str], datetime.date | None] = lambda _site, _plan: None


def why_apart(sitting: Sitting, known: Known) -> str:
    """Why a sitting must be kept apart, as a clause; "" where it may be believed."""
    if sitting.site not in known.codes:
        return FOREIGN
    view = known.view(sitting.site, sitting.plan)
    if view is None:
        return UNKNOWN_PLAN if known.has_plans(sitting.site) else NO_PLAN
    day = sitting.start[:10]
    # Somewhere the next day has begun already, by up to 14 hours.
    if sitting.started.date() > known.today + datetime.timedelta(days=1):
        return TO_COME.format(day=day)
    if sitting.started.date() < FIRST_DAY:
        return TOO_OLD.format(day=day)
    moments = (*(t.ms for t in sitting.trials), *(t.ms for t in sitting.tallies))
    if any(ms > A_DAY_MS for ms in moments):
        return TOO_LONG
    if any(max(t.words or 0, t.targets or 0) > MOST_COUNTED for t in sitting.tallies):
        return TOO_MANY.format(most=f"{MOST_COUNTED:,}")
    steps = {step.id: step for program in view.programs for step in program.steps}
    named = (
        *(_not_of_plan(trial, steps.get(trial.step)) for trial in sitting.trials),
        *(_no_text(tally, steps.get(tally.step)) for tally in sitting.tallies),
    )
    name = next(filter(None, named), "")
    return OTHER_WORDS.format(name=name) if name else ""


def before_its_plan(sitting: Sitting, known: Known) -> bool:
    """Whether its day is before its plan was kept here, by more than zones explain: a clock was
    wrong, the tablet's or, where somebody copied the plans, the file's. So it counts."""
    kept = known.kept_on(sitting.site, sitting.plan)
    return kept is not None and sitting.started.date() + datetime.timedelta(days=1) < kept


def _not_of_plan(trial: Trial, step: StepView | None) -> str:
    """What of a trial its plan does not have; "" where it has all."""
    if step is None:
        return f"the step `{trial.step}`"
    items = {item.id for item in step.items} | ({A_TEXT} if step.passage else set())
    for item in filter(None, (trial.item, trial.chosen, trial.heard)):
        if item not in items:
            return f"`{item}` in the step `{step.id}`"
    if trial.round not in {A_TEXT, *(one.id for one in step.rounds)}:
        return f"the round `{trial.round}` of the step `{step.id}`"
    return ""


def _no_text(tally: Tally, step: StepView | None) -> str:
    if step is None:
        return f"the step `{tally.step}`"
    return "" if step.passage else f"a text in the step `{step.id}`"
