"""The proof: one local page on which a therapist sees every picture, hears every clip and reads
every finding beside the item it concerns, of all steps, published or not. Never published."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import PurePath
from typing import TYPE_CHECKING

from builder.audio.voices.unspeakable import refusal
from builder.model import dose
from builder.model.plan import Clip, Plan, PlannedItem, PlannedProgram, PlannedStep
from builder.model.program import Client, Form, Item, Program, Step
from builder.problems import Finding, Place, counted
from builder.recordings.prompts import item_utterance
from builder.recordings.takes import Take
from builder.survey.survey import Survey
from builder.text.templates import environment

if TYPE_CHECKING:
    from builder.make.clips import Facts


@dataclass(frozen=True)
class Recorded:
    """A recording of an item: its file, where the page plays it ("" for what is heard as a clip),
    what was measured, and whether it is the one that is used."""

    name: str
    form: Form
    path: str
    take: Take
    used: bool


@dataclass(frozen=True)
class Card:
    """One item on the page: what a family sees and hears, and what the check says of it.

    clips: of each form; None where the helper says it.
    """

    item: PlannedItem
    clips: tuple[tuple[Form, Clip | None, Facts | None], ...]
    recordings: tuple[Recorded, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class Part:
    """One step on the page."""

    step: PlannedStep
    state: str
    cards: tuple[Card, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class Whole:
    """One program on the page. `week`: what its practice amounts to, in a sentence."""

    file: str
    ipa: str
    week: str
    reminder: str
    cues: tuple[tuple[str, str], ...]
    findings: tuple[Finding, ...]
    parts: tuple[Part, ...]


def with_all_steps(client: Client) -> Client:
    """The client as if every step were practised now, so that a plan holds all of them."""
    programs = (replace(p, current=tuple(range(len(p.steps)))) for p in client.programs)
    return replace(client, programs=tuple(programs))


def speakable(plan: Plan) -> tuple[Clip, ...]:
    """The clips that can be made although faults stand: pronounced, and held only where it goes."""
    return tuple(clip for clip in plan.clips if not refusal(clip))


def unused(client: Client, survey: Survey) -> dict[str, Take]:
    """The recordings that a proof plays beside its clips, by their place in its folder: those that
    are not used, and so cannot be heard as clips."""
    found: dict[str, Take] = {}
    for program in client.programs:
        for step in program.steps:
            for item in step.said:
                for _, one in _recordings(program, step, item, survey):
                    found |= {one.path: one.take} if one.path else {}
    return found


def _recordings(
    program: Program, step: Step, item: Item, survey: Survey
) -> Iterator[tuple[Form, Recorded]]:
    forms: tuple[Form, ...] = ("natural", "long")
    for form in forms:
        asked = item_utterance(program, step, item, form)
        takes = survey.takes.get(asked, ())
        for at, take in enumerate((*takes, *survey.doubtful.get(asked, ()))):
            file, used = PurePath(take.path), at == 0 and take.usable
            path = "" if used else f"takes/{take.digest[:12]}{file.suffix.lower()}"
            yield form, Recorded(file.name, form, path, take, used)


def page(
    client: Client,
    plan: Plan,
    findings: tuple[Finding, ...],
    facts: Mapping[str, Facts],
    survey: Survey,
) -> str:
    """The HTML. client: as written; plan: of `with_all_steps(client)`; facts: by clip key."""
    wholes = []
    for program, planned in zip(client.programs, plan.programs, strict=True):
        mine = tuple(f for f in findings if f.place.file == program.file)
        wholes.append(_whole(program, planned, mine, facts, survey))
    unheard = {t.digest for t in unused(client, survey).values() if t.state == "unheard"}
    template = environment("proof").get_template("proof.html")
    return template.render(
        client=client.code,
        wholes=wholes,
        plan=plan,
        drawn=plan.drawn,
        counts=counted(findings),
        unheard=len(unheard),
        files=" ".join(program.file for program in client.programs),
    )


def _whole(
    program: Program,
    shown: PlannedProgram,
    findings: tuple[Finding, ...],
    facts: Mapping[str, Facts],
    survey: Survey,
) -> Whole:
    told: set[Finding] = set()
    parts = []
    for at, (step, planned) in enumerate(zip(program.steps, shown.steps, strict=True)):
        parts.append(
            _part(program, step, planned, _state(program, at), findings, facts, told, survey)
        )
    rest = tuple(f for f in findings if f not in told)
    minutes = max(1, round(dose.sitting_minutes(program)))
    week = (
        f"{dose.sitting_tries(program)} tries in about "
        f"{minutes} minute{'s' if minutes > 1 else ''} a sitting, "
        f"{dose.week_tries(program)} tries a week"
    )
    return Whole(
        PurePath(program.file).name,
        program.sound.ipa,
        week,
        shown.reminder,
        shown.cues,
        rest,
        tuple(parts),
    )


def _state(program: Program, at: int) -> str:
    if at in program.current:
        return "practised now"
    return "refresher" if at < max(program.current) else "later, not published"


def _part(
    program: Program,
    step: Step,
    planned: PlannedStep,
    state: str,
    findings: tuple[Finding, ...],
    facts: Mapping[str, Facts],
    told: set[Finding],
    survey: Survey,
) -> Part:
    cards = []
    for item, shown in zip(step.said, planned.said, strict=True):
        places = _places(program, item.path)
        mine = tuple(f for f in findings if f.place in places and f not in told)
        told.update(mine)
        held = "long" in {r.form for r in step.rounds} and item in step.items
        forms: tuple[Form, ...] = ("natural", "long") if held else ("natural",)
        clips = zip(forms, (shown.natural, shown.long), strict=False)
        cards.append(
            Card(
                shown,
                tuple((form, clip, facts.get(clip.key) if clip else None) for form, clip in clips),
                tuple(one for _, one in _recordings(program, step, item, survey)),
                mine,
            )
        )
    places = _places(program, step.path) - {program.place(item.path) for item in step.said}
    own = tuple(f for f in findings if f.place in places and f not in told)
    told.update(own)
    return Part(planned, state, tuple(cards), own)


def _places(program: Program, path: tuple[str | int, ...]) -> set[Place]:
    """Every place written at or under `path`."""
    return {place for key, place in program.places.items() if key[: len(path)] == path}
