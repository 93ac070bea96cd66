"""Client -> Plan. Pure: what lies on the disk comes in by the survey, the voices' versions and
the site's name by `Outside`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from builder.dose import step_seconds
from builder.model import Client, Form, Item, Level, Program, Step
from builder.names import distinct, slug_of
from builder.phonetics.inventory import ipa_of
from builder.phonetics.spelling import fits, target_letters
from builder.pictures import ending
from builder.plan import (
    Clip,
    Code,
    Picture,
    Plan,
    PlannedItem,
    PlannedProgram,
    PlannedRound,
    PlannedStep,
)
from builder.settings import DAYS, TIMES
from builder.speech import words_of
from builder.store import key_of
from builder.survey import Found, Survey


@dataclass(frozen=True)
class Outside:
    """What the plan takes from outside, so that it stays pure.

    slug:     the site's name.
    versions: of each voice and of the picture maker, part of the content keys.
    """

    slug: str
    versions: Mapping[str, str]


def make(client: Client, survey: Survey, outside: Outside) -> Plan:
    """Everything the client's site needs."""
    base = client.clinic.base_url.rstrip("/")
    address = f"{base}/{outside.slug}/" if base else ""
    programs = tuple(_program(client, p, survey, outside, address) for p in client.programs)
    first = client.programs[0]
    steps = [step for program in programs for step in program.steps]
    clips = [c for p in programs for c in _clips(p)]
    emblem = _emblem(client.code, survey)
    pictures = [i.picture for step in steps for i in step.said if i.picture]
    plan = Plan(
        client=client.code,
        slug=outside.slug,
        digest="",
        address=address,
        clinic=client.clinic,
        language=client.clinic.language,
        emblem=emblem,
        programs=programs,
        times=tuple(t for t in TIMES if any(t in p.times for p in client.programs)),
        days=tuple(d for d in DAYS if any(d in p.days for p in client.programs)),
        minutes=max(p.minutes for p in client.programs),
        helper=first.written.helper,
        reads=first.written.reads,
        clips=tuple(dict.fromkeys(clips)),
        pictures=tuple(dict.fromkeys([*pictures, *([emblem] if emblem else [])])),
        code=_code(address, "codes/site", "site") if address else None,
        gone=tuple(s for s in survey.gone if s not in {step.id for step in steps}),
        dates=(_earliest("start", client), _earliest("visit", client)),
    )
    return replace(plan, digest=key_of(plan=repr(replace(plan, gone=(), dates=("", "")))))


def _earliest(date: Literal["start", "visit"], client: Client) -> str:
    """The earlier one of all programs in ISO form, "" when none gives it."""
    dates = (getattr(program.written.practice, date) for program in client.programs)
    return min((str(d) for d in dates if d), default="")


def _clips(program: PlannedProgram) -> Iterator[Clip]:
    if program.alone:
        yield program.alone
    for step in program.steps:
        for item in step.said:
            yield item.natural
            if item.long:
                yield item.long


def _code(address: str, path: str, label: str) -> Code:
    return Code(key_of(code=address, form=1), path, address, label)


def _emblem(code: str, survey: Survey) -> Picture | None:
    """The animal of the client's code: a picture of that name in the client's folder, else a
    drawing."""
    animal = code.partition("-")[0]
    own = next((f for name, f in survey.own.items() if name.rpartition(".")[0] == animal), None)
    if own:
        return _own(own, animal)
    drawing, name = survey.emblem
    return _drawing(drawing, name) if drawing else None


def _own(found: Found, alt: str) -> Picture:
    key = key_of(own=found.digest, form=1)
    # The public name tells nothing of the file's own name.
    return Picture(key, f"pictures/{key[:12]}{ending(found.path)}", "own", found.path, alt)


def _drawing(code: str, alt: str) -> Picture:
    return Picture(key_of(drawing=code, form=1), f"pictures/{code}.svg", "drawing", code, alt)


def _picture(item: Item, level: Level, survey: Survey) -> Picture | None:
    alt = item.text
    if own := survey.own_picture(item):
        return _own(own, alt)
    code = "" if level in ("isolation", "syllable") else survey.drawing(item)
    return _drawing(code, alt) if code else None


def _program(
    client: Client, program: Program, survey: Survey, outside: Outside, address: str
) -> PlannedProgram:
    written = program.written
    say = _Clips(client, program, survey, outside)
    steps = []
    for at, step in enumerate(program.published_steps):
        easier = program.steps[at - 1].id if at else ""
        code = _code(f"{address}{step.id}/", f"codes/{step.id}", step.name) if address else None
        steps.append(_step(program, step, at in program.current, easier, code, say, survey))
    cues = written.cues
    parts = (("tongue", cues.tongue), ("lips", cues.lips), ("air", cues.air), ("voice", cues.voice))
    error = program.error if isinstance(program.error, str) else program.error.ipa
    return PlannedProgram(
        sound=program.sound.spelled,
        ipa=program.sound.ipa,
        example=_example(program),
        alone=say.alone() if program.sound.kind == "consonant" else None,
        error=error,
        reminder=written.reminder,
        cues=tuple((name, text) for name, text in parts if text),
        steps=tuple(steps),
        misses=written.misses,
    )


def _example(program: Program) -> str:
    """A word of the client's own with the sound where it is practised, else the table's word."""
    own = (i.text for s in program.published_steps if s.level == "word" for i in s.items if i.focus)
    listed = (w.word for position in program.written.position
              for w in program.written.words.get(position, ()))  # fmt: skip
    return next(own, "") or next(listed, program.sound.example)


def _step(
    program: Program,
    step: Step,
    current: bool,
    easier: str,
    code: Code | None,
    say: _Clips,
    survey: Survey,
) -> PlannedStep:
    forms = {r.form for r in step.rounds}
    ids = distinct(f"{r.form}-{'contrast' if r.contrast else r.support}" for r in step.rounds)
    rounds = tuple(
        PlannedRound(i, r.form, r.support, r.show, r.times, r.contrast)
        for i, r in zip(ids, step.rounds, strict=True)
    )
    items = tuple(_item(step, item, "long" in forms, say, survey) for item in step.items)
    others = step.said[len(items) :]
    return PlannedStep(
        id=step.id,
        name=step.name,
        level=step.level,
        sound=program.sound.spelled,
        positions=step.positions,
        current=current,
        easier=easier,
        rounds=rounds,
        items=items,
        tries=step.tries,
        minutes=max(1, round(step_seconds(step) / 60)),
        code=code,
        pairs=tuple((pair.target.id, pair.other.id) for pair in step.pairs),
        others=tuple(_item(step, item, False, say, survey) for item in others),
    )


def _item(step: Step, item: Item, held: bool, say: _Clips, survey: Survey) -> PlannedItem:
    return PlannedItem(
        id=item.id,
        text=item.text,
        letters=_letters(item, step),
        ipa=" ".join(ipa_of(word.phones) for word in item.words),
        position=item.position,
        picture=_picture(item, step.level, survey),
        natural=say.clip(step, item, "natural"),
        long=say.clip(step, item, "long") if held else None,
    )


def _letters(item: Item, step: Step) -> tuple[tuple[str, bool], ...]:
    """The text in parts, True where letters spell the target of this item."""
    if item.focus is None:
        return ((item.text, False),)
    if step.level == "isolation":
        return ((item.text, True),)
    at, start, stop = item.focus
    word = item.words[at]
    # Letters that the table cannot explain are not set off: a guess would mislead.
    if len(item.words) != len(words_of(item.text)) or not fits(word.text, word.phones):
        return ((item.text, False),)
    begin = _find_word(item, at)
    inner = target_letters(word.text, word.phones, start, stop)
    end = begin + len(word.text)
    parts = ((item.text[:begin], False), *inner, (item.text[end:], False))
    return tuple(part for part in parts if part[0])


def _find_word(item: Item, at: int) -> int:
    begin = 0
    for word in item.words[:at]:
        begin = item.text.index(word.text, begin) + len(word.text)
    return item.text.index(item.words[at].text, begin)


@dataclass(frozen=True)
class _Clips:
    """Plans the clips of one program: a take where there is one, else the program's voice."""

    client: Client
    program: Program
    survey: Survey
    outside: Outside

    def clip(self, step: Step, item: Item, form: Form) -> Clip:
        """The clip of one item in one form."""
        words = tuple(word.phones for word in item.words)
        return self._clip(item.text, words, item.focus, form, step.level == "isolation", step.hold)

    def alone(self) -> Clip:
        """The target alone: held when it can be, else released shortly."""
        sound = self.program.sound
        form: Form = "long" if sound.stays_alone else "natural"
        return self._clip(sound.spelled, (sound.phones[0],), (0, 0, 1), form, True, 1.5)

    def _clip(
        self,
        text: str,
        words: tuple[tuple[str, ...], ...],
        focus: tuple[int, int, int] | None,
        form: Form,
        alone: bool,
        hold: float,
    ) -> Clip:
        take = self.survey.takes.get((slug_of(text), form))
        # An online service speaks words; a sound alone and a held one it cannot be asked for.
        asked: Literal["embedded", "online"] = self.program.voice
        voice = "take" if take else "embedded" if alone or form == "long" else asked
        hold = hold if form == "long" else 0.0
        key = key_of(
            text=text, words=words, focus=focus, form=form, alone=alone, hold=hold, voice=voice,
            take=take.digest if take else "", version=self.outside.versions[voice],
            language=self.client.clinic.language,
        )  # fmt: skip
        path = f"clips/{slug_of(text)}-{form}-{key[:8]}.mp3"
        source = take.path if take else ""
        return Clip(
            key, path, text, words, focus, form, alone, hold, voice, source,
            self.client.clinic.language,
        )  # fmt: skip
