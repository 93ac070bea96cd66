"""The proof: one local page on which a therapist sees every picture, hears every clip and reads
every finding beside the item it concerns, of all steps, published or not. Never published."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path, PurePath
from types import MappingProxyType
from typing import TYPE_CHECKING

from builder.audio.voices import VOICES, missing_modules
from builder.audio.voices.unspeakable import why_unspeakable
from builder.model import dose
from builder.model.plan import Clip, Plan, PlannedItem, PlannedProgram, PlannedStep
from builder.model.program import Client, Form, Item, Program, Step
from builder.problems import Finding, Place, counted
from builder.recordings.prompts import item_utterance, sound_utterance
from builder.recordings.takes import Take, name_of
from builder.site.unsaid import unfit
from builder.site.voice_changes import LedRound, VoiceChange, led_rounds, voice_changes
from builder.survey.survey import Survey
from builder.text.templates import environment

if TYPE_CHECKING:
    from builder.make.clips import Facts

Findings = tuple[Finding, ...]
ShownClip = tuple[Form, "Clip | None", "Facts | None", str]


@dataclass(frozen=True)
class ShownRecording:
    """A recording of an item: its file, where the page plays it ("" for what is heard as a clip),
    what was measured, and whether it is the one that is used."""

    name: str
    form: Form
    path: str
    take: Take
    used: bool


@dataclass(frozen=True)
class ItemCard:
    """One item on the page: what a family sees and hears, and what the check says of it.

    clips: of each form, with the reason why not the voice that was asked; None where the helper
           says it, and why.
    """

    item: PlannedItem
    clips: tuple[ShownClip, ...]
    recordings: tuple[ShownRecording, ...]
    findings: Findings


@dataclass(frozen=True)
class StepSection:
    """One step on the page. changes, led: where the voice changes inside a round, and where it
    would, were the round not all in one voice."""

    step: PlannedStep
    state: str
    changes: tuple[VoiceChange, ...]
    led: tuple[LedRound, ...]
    cards: tuple[ItemCard, ...]
    findings: Findings


@dataclass(frozen=True, kw_only=True)
class ProgramSection:
    """One program on the page."""

    file: str
    ipa: str
    reminder: str
    cues: tuple[tuple[str, str], ...]
    recordings: tuple[ShownRecording, ...]
    findings: Findings
    steps: tuple[StepSection, ...]


def with_all_steps(client: Client) -> Client:
    """The client as if every step were practiced now, so that a plan holds all of them."""
    programs = (replace(p, current=tuple(range(len(p.steps)))) for p in client.programs)
    return replace(client, programs=tuple(programs))


def speakable(plan: Plan) -> tuple[Clip, ...]:
    """The clips that can be made in spite of faults: pronounced, and held only where possible."""
    return tuple(clip for clip in plan.clips if not why_unspeakable(clip))


def unused_takes(client: Client, survey: Survey) -> dict[str, Take]:
    """The recordings that a proof plays beside its clips, by their place in its folder: those that
    are not used, and so cannot be heard as clips."""
    found: dict[str, Take] = {}
    for program in client.programs:
        found |= {one.path: one.take for one in _waiting_recordings(program, survey)}
        for step in program.steps:
            for item in step.said:
                for one in _recordings(program, step, item, survey):
                    found |= {one.path: one.take} if one.path else {}
    return found


def _recordings(
    program: Program, step: Step, item: Item, survey: Survey
) -> Iterator[ShownRecording]:
    forms: tuple[Form, ...] = ("natural", "long")
    for form in forms:
        asked = item_utterance(program, step, item, form)
        takes = survey.takes.get(asked, ())
        for at, take in enumerate((*takes, *survey.doubtful.get(asked, ()))):
            yield _shown(take, form, used=at == 0 and take.usable)


def _waiting_recordings(program: Program, survey: Survey) -> Iterator[ShownRecording]:
    """What waits to be heard and belongs to no item: the sound alone, words with the error."""
    asked = sound_utterance(program.sound)
    words = (item_utterance(program, s, item, "natural") for s in program.steps for item in s.said)
    wrong = (survey.wrong[word] for word in dict.fromkeys(words) if word in survey.wrong)
    alone = survey.takes.get(asked, ())[:1]
    yield from (_shown(take, asked.form, used=False) for take in alone if take.waits)
    yield from (_shown(take, "natural", used=False) for take in wrong if take.waits)


def _shown(take: Take, form: Form, *, used: bool) -> ShownRecording:
    file = Path(take.path)
    path = "" if used else f"takes/{take.digest[:12]}{file.suffix.lower()}"
    return ShownRecording(name_of(file) + file.suffix, form, path, take, used)


def proof_page(
    client: Client,
    plan: Plan,
    findings: Findings,
    facts: Mapping[str, Facts],
    survey: Survey,
    unsaid: Mapping[tuple[str, str, Form], str] = MappingProxyType({}),
) -> str:
    """The HTML. client: as written; plan: of `with_all_steps(client)`; facts: by clip key; unsaid:
    why there is no clip, by step, item and form."""
    sections: list[ProgramSection] = []
    files = {program.file for program in client.programs}
    for program, planned in zip(client.programs, plan.programs, strict=True):
        shared = () if sections else tuple(f for f in findings if f.place.file not in files)
        its_own = (*shared, *(f for f in findings if f.place.file == program.file))
        section = _program_section(program, planned, its_own, facts, survey)
        sections.append(_with_reasons(section, unsaid))
    waiting = [take for take in unused_takes(client, survey).values() if take.waits]
    unheard = {take.digest for take in waiting if take.state == "unheard"}
    first = {takes[0].path for takes in survey.takes.values()} | {
        t.path for t in survey.wrong.values()
    }
    doubted = {t.path for t in waiting if t.state == "accepted" and t.path in first}
    template = environment("proof").get_template("proof.html")
    return template.render(
        client=client.code,
        programs=sections,
        plan=plan,
        drawn=plan.drawn,
        called={name: info.called for name, info in VOICES.items()},
        alone=client.practises_alone,
        speaker="nobody" if client.practises_alone else "the helper",
        counts=counted(findings),
        sitting=dose.in_words(client.programs, plan.pauses).capitalize(),
        unheard=len(unheard),
        doubted=sorted(name_of(Path(path)) for path in doubted),
        files=" ".join(program.file for program in client.programs),
    )


def _program_section(
    program: Program,
    planned: PlannedProgram,
    findings: Findings,
    facts: Mapping[str, Facts],
    survey: Survey,
) -> ProgramSection:
    """Each finding is shown once: beside its item, else its step, else its program."""
    steps = []
    for step, shown in zip(program.steps, planned.steps, strict=True):
        section, findings = _step_section(program, step, shown, findings, facts, survey)
        steps.append(section)
    return ProgramSection(
        file=PurePath(program.file).name,
        ipa=program.sound.ipa,
        reminder=planned.reminder,
        cues=planned.cues,
        recordings=tuple(_waiting_recordings(program, survey)),
        findings=findings,
        steps=tuple(steps),
    )


def _step_section(
    program: Program,
    step: Step,
    planned: PlannedStep,
    findings: Findings,
    facts: Mapping[str, Facts],
    survey: Survey,
) -> tuple[StepSection, Findings]:
    """The step with its own of the findings, and the rest of them."""
    cards = []
    for item, shown in zip(step.said, planned.said, strict=True):
        own, findings = _split(findings, _places(program, item.path))
        recordings = tuple(_recordings(program, step, item, survey))
        cards.append(ItemCard(shown, _clips(program, step, item, shown, facts), recordings, own))
    own, findings = _split(findings, _places(program, step.path))
    changes, led = voice_changes(planned, facts), _led(program, planned, facts)
    return StepSection(planned, _state(program, step), changes, led, tuple(cards), own), findings


def _led(
    program: Program, planned: PlannedStep, facts: Mapping[str, Facts]
) -> tuple[LedRound, ...]:
    asked = program.voice
    if asked == "helper" or missing_modules(asked):
        return ()
    return led_rounds(planned, facts, asked)


def _state(program: Program, step: Step) -> str:
    at = program.steps.index(step)
    if at in program.current:
        return "practiced now"
    return "refresher" if at < max(program.current) else "later, not published"


def _clips(
    program: Program, step: Step, item: Item, shown: PlannedItem, facts: Mapping[str, Facts]
) -> tuple[ShownClip, ...]:
    """The clip of each form that the step asks for, and why not by the voice that was asked."""
    forms: list[tuple[Form, Clip | None]] = [("natural", shown.natural)]
    if item in step.items and any(r.form == "long" for r in step.rounds):
        forms.append(("long", shown.long))
    found: list[ShownClip] = []
    for form, clip in forms:
        fact = facts.get(clip.key) if clip else None
        other = fact is not None and fact.voice != program.voice and VOICES[fact.voice].synthetic
        why = unfit(program.voice, program.sound.symbol, form, item.position) if other else ""
        found.append((form, clip, fact, why))
    return tuple(found)


def _with_reasons(
    section: ProgramSection, unsaid: Mapping[tuple[str, str, Form], str]
) -> ProgramSection:
    """The section with the reason beside each clip that there is not."""

    def told(step: str, card: ItemCard) -> ItemCard:
        clips = tuple(
            (form, clip, fact, why if fact else unsaid.get((step, card.item.id, form), ""))
            for form, clip, fact, why in card.clips
        )
        return replace(card, clips=clips)

    steps = tuple(
        replace(each, cards=tuple(told(each.step.id, card) for card in each.cards))
        for each in section.steps
    )
    return replace(section, steps=steps)


def _split(findings: Findings, places: Container[Place]) -> tuple[Findings, Findings]:
    """The findings at one of the places, and the others."""
    here = tuple(f for f in findings if f.place in places)
    return here, tuple(f for f in findings if f.place not in places)


def _places(program: Program, path: tuple[str | int, ...]) -> set[Place]:
    """Every place written at or under `path`."""
    return {place for key, place in program.places.items() if key[: len(path)] == path}
