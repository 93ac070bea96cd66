"""The data block of practice: one step's page, or today's with the whole sitting."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

from pydantic import Field

from builder.make.clips import Facts
from builder.model.clinic import Day, Strict, Time
from builder.model.dose import HOLDS_IN_A_ROW
from builder.model.plan import Plan, PlannedProgram, PlannedStep
from builder.model.practice_view import view_of
from builder.model.program import Role
from builder.site.blocks.facing import facing
from builder.site.blocks.items import ClipData, PictureData, clip_data, picture_data
from builder.site.blocks.steps import StepData, step_data
from builder.text.wording import Wording

PAUSE_S = 3.0  # the quiet wait of a delayed round; common practice, no source


class PathData(Strict):
    """What the stones of a sitting need. animal: at their head; faces: where it looks; praise:
    spoken at the end, null where the helper says it."""

    animal: PictureData | None
    faces: Literal["left", "right"]
    praise: ClipData | None


class RolePractice(Strict):
    """The days of one who listens; its times, and null or nothing where all have the same."""

    role: Role
    days: tuple[Day, ...]
    times: tuple[Time, ...] | None = Field(None, exclude_if=lambda times: times is None)


class PageData(Strict):
    """All that practice on a page needs.

    home: the way to today's page; top: that to the top of the site, whatever language the page is
    in. language: of the practiced words. times, days: of the plan. minutes: after so many a sitting
    ends; 0 for no end. estimate: minutes that a whole one takes, 0 on a step's own page.
    by_role: those of each who listens, () where they are the same for all. planned_days: for this
    plan. paced: words come by themselves unless the family says otherwise.
    breath: long holds in a row; pause: seconds. steps: what is practiced, in order; easier: the
    steps they lead back to, which are not among them. path: null where no stones are laid.
    """

    version: Literal[2]
    site: str
    plan: str
    practice: str
    home: str
    top: str
    language: str
    helper: Role
    times: tuple[Time, ...]
    days: tuple[Day, ...]
    by_role: tuple[RolePractice, ...]
    minutes: int
    estimate: int
    planned_days: int
    paced: bool
    hiss: bool
    breath: int
    pause: float
    path: PathData | None
    steps: tuple[StepData, ...]
    easier: tuple[StepData, ...]
    wording: dict[str, str]


def step_page_data(
    plan: Plan,
    program: PlannedProgram,
    step: PlannedStep,
    facts: Mapping[str, Facts],
    w: Wording,
    top: str = "../",
) -> PageData:
    """The data block of one step's page. top: the way from there to the top of the site. Raises
    KeyError when a clip has no facts."""
    return _page_data(plan, [(program, step)], facts, w, ("../", top), minutes=0, estimate=0)


def today_data(plan: Plan, facts: Mapping[str, Facts], w: Wording, top: str = "./") -> PageData:
    """The data block of today's page: a whole sitting. Raises KeyError when a clip has no facts."""
    now = [(p, step) for p in plan.programs for step in p.steps if step.current]
    return _page_data(
        plan, now, facts, w, ("./", top), minutes=plan.planned_minutes, estimate=plan.whole_minutes
    )


def _page_data(
    plan: Plan,
    practised: Sequence[tuple[PlannedProgram, PlannedStep]],
    facts: Mapping[str, Facts],
    w: Wording,
    ways: tuple[str, str],
    minutes: int,
    estimate: int,
) -> PageData:
    view, (home, top) = view_of(plan), ways
    here = {step.id for _, step in practised}
    found = ((program, easier_step(program, step)) for program, step in practised)
    easier = {step.id: (program, step) for program, step in found if step and step.id not in here}

    def data(program: PlannedProgram, step: PlannedStep) -> StepData:
        return step_data(program, step, facts, w, top)

    steps = tuple(data(*one) for one in practised)
    back_to = tuple(data(*one) for one in easier.values())
    return PageData(
        version=2,
        site=plan.slug,
        plan=view.digest,
        practice=view.practice_digest,
        home=home,
        top=top,
        language=plan.language,
        helper=plan.helper,
        times=plan.times,
        days=plan.days,
        by_role=by_role(plan),
        minutes=minutes,
        estimate=estimate,
        planned_days=plan.planned_days,
        paced=plan.paced,
        hiss=plan.hiss is not None,
        breath=HOLDS_IN_A_ROW,
        pause=PAUSE_S,
        path=_path(plan, facts, top) if plan.path else None,
        steps=steps,
        easier=back_to,
        wording=_words(w, (*steps, *back_to)),
    )


def _words(w: Wording, steps: Sequence[StepData]) -> dict[str, str]:
    """The words of the rounds that these steps can come to."""
    asked = {
        "passage": any(step.passage for step in steps),
        "contrast": any(one.contrast for step in steps for one in step.rounds),
        "yourself": any(step.hears for step in steps),
    }
    return {k: v for k, v in w.part("rounds").items() if asked.get(k.partition(".")[0], True)}


def by_role(plan: Plan) -> tuple[RolePractice, ...]:
    """Days and times of each who listens, () where they are the same for all."""
    return tuple(
        RolePractice(
            role=role,
            days=plan.days_of(role),
            times=plan.times_of(role) if plan.times_by_role else None,
        )
        for role in plan.apart
    )


def _path(plan: Plan, facts: Mapping[str, Facts], root: str) -> PathData:
    return PathData(
        animal=picture_data(plan.emblem, root),
        faces=facing(plan.emblem) if plan.emblem else "left",
        praise=clip_data(plan.praise, facts, root) if plan.praise else None,
    )


def easier_step(program: PlannedProgram, step: PlannedStep) -> PlannedStep | None:
    """The published step to go back to."""
    return next((s for s in program.steps if s.id == step.easier), None)
