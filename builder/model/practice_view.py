"""The practice view: all of a plan that a practice record refers to, and nothing else. Its hash
names the plan in records; each published view is kept, so that a record of any week can be
understood later."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, replace

from builder.model.criteria import Criterion
from builder.model.plan import Clip, Plan, PlannedItem, PlannedProgram, PlannedRound, PlannedStep
from builder.model.program import Form, Level, Support
from builder.workspace.store import key_of


@dataclass(frozen=True)
class ItemView:
    """What is said. clips: content keys of the natural and the long one, "" where there is none."""

    id: str
    text: str
    clips: tuple[str, str]


@dataclass(frozen=True)
class RoundView:
    """One pass over the items, or over the pairs."""

    id: str
    form: Form
    support: Support
    times: int
    contrast: bool


@dataclass(frozen=True)
class PassageView:
    """Past sentences: the text and how many targets in it count, or the situation of a talk."""

    text: str
    targets: int
    where: str
    company: str
    minutes: int


@dataclass(frozen=True)
class StepView:
    """One published step. paired: content keys of the clips of each pair, where they are others
    than those of the items."""

    id: str
    level: Level
    current: bool
    rounds: tuple[RoundView, ...]
    items: tuple[ItemView, ...]
    pairs: tuple[tuple[str, str], ...]
    passage: PassageView | None = None
    paired: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class ProgramView:
    """One sound. advance, step_back: per cent and days, in this order."""

    sound: str
    misses: int
    advance: tuple[int, int]
    step_back: tuple[int, int]
    steps: tuple[StepView, ...]


@dataclass(frozen=True)
class PracticeView:
    """What a client practices. The address, the clinic, the days and who listens are no part of
    it; each record says itself who listened."""

    language: str
    programs: tuple[ProgramView, ...]

    @property
    def digest(self) -> str:
        """The hash of all of it, clip keys included: 32 hex digits."""
        return key_of(view=asdict(self))

    @property
    def practice_digest(self) -> str:
        """The hash without clip keys: a word recorded anew is no new plan, and a sitting may go
        on."""
        return key_of(practice=asdict(_without_clips(self)))

    def as_json(self) -> str:
        """The view as it is kept."""
        return json.dumps({"version": 1} | asdict(self), ensure_ascii=False, indent=1)


def view_of(plan: Plan) -> PracticeView:
    """The view of a plan."""
    return PracticeView(plan.language, tuple(map(_program, plan.programs)))


def _program(program: PlannedProgram) -> ProgramView:
    return ProgramView(
        program.symbol,
        program.misses,
        _criterion(program.criteria.advance),
        _criterion(program.criteria.step_back),
        tuple(map(_step, program.steps)),
    )


def _criterion(one: Criterion) -> tuple[int, int]:
    return one.percent, one.days


def _step(step: PlannedStep) -> StepView:
    return StepView(
        step.id,
        step.level,
        step.current,
        tuple(map(_round, step.rounds)),
        tuple(map(_item, step.said)),
        step.pairs,
        _passage(step),
        tuple((_key(one), _key(other)) for one, other in step.paired),
    )


def _passage(step: PlannedStep) -> PassageView | None:
    if step.passage is None:
        return None
    text = "\n".join("".join(part for part, _ in line) for line in step.passage.paragraphs)
    one = step.passage
    return PassageView(text, one.targets, one.where, one.company, one.minutes)


def _round(one: PlannedRound) -> RoundView:
    return RoundView(one.id, one.form, one.support, one.times, one.contrast)


def _item(item: PlannedItem) -> ItemView:
    return ItemView(item.id, item.text, (_key(item.natural), _key(item.long)))


def _key(clip: Clip | None) -> str:
    return clip.key if clip else ""


def _without_clips(view: PracticeView) -> PracticeView:
    def step(one: StepView) -> StepView:
        items = tuple(replace(i, clips=("", "")) for i in one.items)
        return replace(one, items=items, paired=())

    programs = (replace(p, steps=tuple(map(step, p.steps))) for p in view.programs)
    return replace(view, programs=tuple(programs))
