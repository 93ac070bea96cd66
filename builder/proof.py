"""The proof: one local page on which a therapist sees every picture, hears every clip and reads
every finding beside the item it concerns, of all steps, published or not. Never published."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import PurePath
from typing import TYPE_CHECKING

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from builder import dose
from builder.model import Client, Program, Step
from builder.plan import Clip, Plan, PlannedItem, PlannedProgram, PlannedStep
from builder.problems import Finding, Place, counted
from builder.templates import folder

if TYPE_CHECKING:
    from builder.clips import Facts


@dataclass(frozen=True)
class Card:
    """One item on the page: what a family sees and hears, and what the check says of it."""

    item: PlannedItem
    clips: tuple[tuple[Clip, Facts | None], ...]
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
    return tuple(clip for clip in plan.clips if _can(clip))


def _can(clip: Clip) -> bool:
    from builder.phonetics.inventory import bare, sounds

    if not clip.words or not all(clip.words):
        return False
    if clip.form == "natural":
        return True
    if clip.focus is None:
        return False
    word, start, _ = clip.focus
    sound = sounds().get(bare(clip.words[word][start]))
    return sound is not None and sound.hold != "no"


def page(
    client: Client, plan: Plan, findings: tuple[Finding, ...], facts: Mapping[str, Facts]
) -> str:
    """The HTML. client: as written; plan: of `with_all_steps(client)`; facts: by clip key."""
    wholes = []
    for program, planned in zip(client.programs, plan.programs, strict=True):
        mine = tuple(f for f in findings if f.place.file == program.file)
        wholes.append(_whole(program, planned, mine, facts))
    environment = Environment(
        loader=FileSystemLoader(folder() / "proof"), autoescape=True, undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True,
    )  # fmt: skip
    return environment.get_template("proof.html").render(
        client=client.code,
        wholes=wholes,
        plan=plan,
        drawn=plan.drawn,
        counts=counted(findings),
    )


def _whole(
    program: Program,
    shown: PlannedProgram,
    findings: tuple[Finding, ...],
    facts: Mapping[str, Facts],
) -> Whole:
    told: set[Finding] = set()
    parts = []
    for at, (step, planned) in enumerate(zip(program.steps, shown.steps, strict=True)):
        parts.append(_part(program, step, planned, _state(program, at), findings, facts, told))
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
) -> Part:
    cards = []
    for item, shown in zip(step.said, planned.said, strict=True):
        places = _places(program, item.path)
        mine = tuple(f for f in findings if f.place in places and f not in told)
        told.update(mine)
        clips = tuple((c, facts.get(c.key)) for c in (shown.natural, shown.long) if c)
        cards.append(Card(shown, clips, mine))
    places = _places(program, step.path) - {program.place(item.path) for item in step.said}
    own = tuple(f for f in findings if f.place in places and f not in told)
    told.update(own)
    return Part(planned, state, tuple(cards), own)


def _places(program: Program, path: tuple[str | int, ...]) -> set[Place]:
    """Every place written at or under `path`."""
    return {place for key, place in program.places.items() if key[: len(path)] == path}
