"""The steps that a client's records name, as the programs have them now, else by a kept view."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from builder.model.practice_view import PracticeView, StepView
from builder.model.program import Client, Item, Level, Program, Step
from builder.phonetics.inventory import bare, sounds

Shown = Literal["picture", "print", ""]
"""What is seen where no model is given: pictures alone, print alone, or something else."""


@dataclass(frozen=True)
class KnownStep:
    """A step. sound: IPA, of a cluster all of it; place: position in the word, "" where there is
    none or it is not known; level: None of a plan that is not known; texts: of its items by id."""

    id: str
    name: str
    level: Level | None
    sound: str
    place: str = ""
    shown: Shown = ""
    texts: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Group:
    """The steps of one program in their order, those before it that it no longer has first.
    program: None where nothing of it is left but records."""

    program: Program | None
    steps: tuple[KnownStep, ...]

    @property
    def sounds(self) -> str:
        """As in "/k/", or "/ɑɹ/, /ɔɹ/" of a family."""
        return ", ".join(f"/{sound}/" for sound in dict.fromkeys(s.sound for s in self.steps))


def groups(
    client: Client, views: Iterable[PracticeView], has_picture: Callable[[Item], bool]
) -> tuple[Group, ...]:
    """The steps of each program, and of programs that are gone. views: all that records name,
    oldest first."""
    texts: dict[str, dict[str, str]] = {}
    gone: dict[str, tuple[str, StepView]] = {}
    own = {step.id for program in client.programs for step in program.steps}
    for view in views:
        for program in view.programs:
            for step in program.steps:
                texts.setdefault(step.id, {}).update({i.id: i.text for i in step.items})
                if step.id not in own:
                    gone[step.id] = program.sound, step
    left: dict[str, list[KnownStep]] = {}
    for symbol, one in gone.values():
        left.setdefault(symbol, []).append(_by_view(one, symbol, texts[one.id]))
    made = []
    for whole in client.programs:
        steps = (_by_program(s, whole, has_picture, texts.get(s.id, {})) for s in whole.steps)
        made.append(Group(whole, (*left.pop(whole.sound.symbol, ()), *steps)))
    return (*made, *(Group(None, tuple(steps)) for steps in left.values()))


def _by_view(step: StepView, symbol: str, texts: Mapping[str, str]) -> KnownStep:
    return KnownStep(step.id, step.id.replace("-", " "), step.level, _ipa(symbol), texts=texts)


def _by_program(
    step: Step,
    program: Program,
    has_picture: Callable[[Item], bool],
    texts: Mapping[str, str],
) -> KnownStep:
    cluster = "".join(map(_ipa, step.cluster))
    return KnownStep(
        step.id,
        step.name,
        step.level,
        cluster or (step.sound or program.sound).ipa,
        "" if step.level == "isolation" else " and ".join(step.positions),
        _shown(step, program.written.reads, has_picture),
        {**texts, **{item.id: item.text for item in step.said}},
    )


def _ipa(phone: str) -> str:
    found = sounds().get(bare(phone))
    return found.ipa if found else phone


def _shown(step: Step, reads: bool, has_picture: Callable[[Item], bool]) -> Shown:
    alone = {r.show for r in step.rounds if r.support == "spontaneous" and not r.contrast}
    if alone == {"picture"} and all(map(has_picture, step.items)):
        return "picture"
    return "print" if alone == {"print"} and reads else ""
