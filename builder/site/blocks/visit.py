"""The data block of the page to show at the visit."""

from __future__ import annotations

from builder.model.clinic import Strict, Way
from builder.model.plan import Plan, PlannedStep
from builder.model.program import Role
from builder.text.wording import Wording


class VisitStep(Strict):
    """One published step. items: id and text of all that is said in it."""

    id: str
    name: str
    sound: str
    items: tuple[tuple[str, str], ...]


class VisitData(Strict):
    """What the page needs besides the record. records: the ways home that the clinic wants;
    other_helpers: who listens besides, by the program; language: of the page, for its dates;
    spoken: of the practiced words."""

    site: str
    client: str
    language: str
    spoken: str
    helper: Role
    other_helpers: tuple[Role, ...]
    records: tuple[Way, ...]
    steps: tuple[VisitStep, ...]
    wording: dict[str, str]


def visit_data(plan: Plan, w: Wording, locale: str) -> VisitData:
    """The data block of a site; today's steps come first. locale: of the page."""
    steps = [step for program in plan.programs for step in program.steps]
    return VisitData(
        site=plan.slug,
        client=plan.client,
        language=locale,
        spoken=plan.language,
        helper=plan.helper,
        other_helpers=plan.other_helpers,
        records=tuple(dict.fromkeys(plan.clinic.records)),
        steps=tuple(map(_visit_step, sorted(steps, key=lambda step: not step.current))),
        wording=w.part("visit"),
    )


def _visit_step(step: PlannedStep) -> VisitStep:
    items = tuple((item.id, item.text) for item in step.said)
    return VisitStep(id=step.id, name=step.name, sound=step.sound, items=items)
