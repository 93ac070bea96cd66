"""Client -> Plan. Pure: what lies on the disk comes in by the survey, the voices' versions and
the site's name by `Outside`."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from builder.audio.voices.suitability import Said, offer
from builder.make.pictures import ending
from builder.model.clinic import DAYS, TIMES, Speaker
from builder.model.dose import step_seconds
from builder.model.plan import (
    Clip,
    Code,
    Picture,
    Plan,
    PlannedItem,
    PlannedProgram,
    PlannedRound,
    PlannedStep,
)
from builder.model.program import Client, Form, Item, Level, Program, Step
from builder.phonetics.inventory import ipa_of
from builder.program_file.pronounce import letters_of
from builder.program_file.resolve import HOLD
from builder.recordings.prompts import Asked, alone_asked, item_asked
from builder.recordings.takes import Take
from builder.survey.survey import Found, Survey
from builder.text.slugs import distinct, slug_of
from builder.workspace.store import key_of

EXAMPLES = 4  # words that the helper hears both ways


@dataclass(frozen=True)
class Outside:
    """What the plan takes from outside, so that it stays pure.

    slug:     the site's name.
    versions: of each voice that can speak here, part of the content keys.
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


def spoken(plan: Plan, made: Container[str]) -> Plan:
    """The plan without the clips that no voice could make (`made`: keys of the others)."""

    def kept(clip: Clip | None) -> Clip | None:
        return clip if clip and clip.key in made else None

    def items(planned: tuple[PlannedItem, ...]) -> tuple[PlannedItem, ...]:
        return tuple(replace(i, natural=kept(i.natural), long=kept(i.long)) for i in planned)

    def program(one: PlannedProgram) -> PlannedProgram:
        steps = (replace(s, items=items(s.items), others=items(s.others)) for s in one.steps)
        wrong = tuple(w for w in one.wrong if w[1].key in made and w[2].key in made)
        return replace(one, alone=kept(one.alone), steps=tuple(steps), wrong=wrong)

    if all(clip.key in made for clip in plan.clips):
        return plan
    clips = tuple(clip for clip in plan.clips if clip.key in made)
    return replace(plan, clips=clips, programs=tuple(map(program, plan.programs)))


def _earliest(date: Literal["start", "visit"], client: Client) -> str:
    """The earlier one of all programs in ISO form, "" when none gives it."""
    dates = (getattr(program.written.practice, date) for program in client.programs)
    return min((str(d) for d in dates if d), default="")


def _clips(program: PlannedProgram) -> Iterator[Clip]:
    if program.alone:
        yield program.alone
    for step in program.steps:
        for item in step.said:
            yield from (clip for clip in (item.natural, item.long) if clip)
    for _, right, wrong in program.wrong:
        yield from (right, wrong)


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
        symbol=program.sound.symbol,
        ipa=program.sound.ipa,
        example=_example(program),
        alone=say.alone() if program.sound.kind == "consonant" else None,
        error=error,
        reminder=written.reminder,
        cues=tuple((name, text) for name, text in parts if text),
        steps=tuple(steps),
        misses=written.misses,
        wrong=tuple(say.wrong())[:EXAMPLES],
    )


def _example(program: Program) -> str:
    """A word of the client's own with the sound where it is practised, else the table's word."""
    own = (i.text for s in program.published_steps if s.level == "word" for i in s.items if i.focus)
    listed = (
        w.word
        for position in program.written.position
        for w in program.written.words.get(position, ())
    )
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
    phones = tuple(word.phones for word in item.words)
    return PlannedItem(
        id=item.id,
        text=item.text,
        letters=letters_of(item.text, phones, item.focus, alone=step.level == "isolation"),
        ipa=" ".join(map(ipa_of, phones)),
        position=item.position,
        picture=_picture(item, step.level, survey),
        natural=say.clip(step, item, "natural"),
        long=say.clip(step, item, "long") if held else None,
    )


def _lengthens(symbol: str, position: str) -> bool:
    """Whether a sound can be made longer there."""
    voices: tuple[Speaker, ...] = ("natural", "embedded")
    return any(offer(v, symbol, "long", position).kind != "not offered" for v in voices)


@dataclass(frozen=True)
class _Clips:
    """Plans the clips of one program: a recording where there is one, else the program's voice, or
    the next that is fit to say it; none where no voice is: then the helper says it."""

    client: Client
    program: Program
    survey: Survey
    outside: Outside

    def clip(self, step: Step, item: Item, form: Form) -> Clip | None:
        """The clip of one item in one form."""
        if not all(word.phones for word in item.words):
            return None
        asked = item_asked(self.program, step, item, form)
        return self._clip(asked, item.text, item.position, step.hold)

    def alone(self) -> Clip | None:
        """The target alone: held when it can be, else released shortly."""
        sound = self.program.sound
        return self._clip(alone_asked(sound), sound.spelled, "", HOLD)

    def wrong(self) -> Iterator[tuple[str, Clip, Clip]]:
        """Words of the current steps as they should be and as the client says them: by a recording
        of the named error, or by a voice where the error puts one plain sound for the target."""
        for step in self.program.current_steps:
            for item in step.items if step.level == "word" else ():
                right = self.clip(step, item, "natural")
                wrong = self._wrong(item_asked(self.program, step, item, "natural"), item)
                if right and wrong:
                    yield item.text, right, wrong

    def _wrong(self, asked: Asked, item: Item) -> Clip | None:
        if take := self.survey.wrong.get(asked):
            return self._of(asked._replace(words=(), focus=None), item.text, 0.0, "recorded", take)
        error = self.program.error
        if isinstance(error, str) or asked.focus is None or error.kind != "consonant":
            return None  # no machine imitates what is no plain sound
        word, first, past = asked.focus
        phones = asked.words[word]
        said = (*phones[:first], *error.phones[0], *phones[past:])
        words = (*asked.words[:word], said, *asked.words[word + 1 :])
        focus = (word, first, first + 1)
        swapped = asked._replace(words=words, focus=focus, sound=error.symbol)
        voice = self._voice(swapped, item.position)
        return self._of(swapped, item.text, 0.0, voice) if voice else None

    def _clip(self, asked: Asked, text: str, position: str, hold: float) -> Clip | None:
        hold = hold if asked.form == "long" else 0.0
        if source := self._recorded(asked, position):
            return self._of(asked, text, hold, "recorded", *source)
        voice = self._voice(asked, position)
        return self._of(asked, text, hold, voice) if voice else None

    def _recorded(self, asked: Asked, position: str) -> tuple[Take, bool] | None:
        """The take, and whether the target is held in it: a long form is made of a natural one,
        but where every voice, made longer, is heard with another syllable (red)."""
        if take := self.survey.take(asked):
            return take, asked.form == "long"
        if asked.form == "long" and not asked.alone and _lengthens(asked.sound, position):
            natural = self.survey.take(asked._replace(form="natural"))
            return (natural, False) if natural and natural.target else None
        return None

    def _voice(self, asked: Asked, position: str) -> Speaker | None:
        """The first voice that is fit: the one that is named, else those on this computer."""
        if self.program.voice == "helper":
            return None
        form: Said = "alone" if asked.alone else asked.form
        order: tuple[Speaker, ...] = (self.program.voice, "natural", "embedded")
        fit = (v for v in dict.fromkeys(order) if v in self.outside.versions)
        return next(
            (v for v in fit if offer(v, asked.sound, form, position).kind != "not offered"), None
        )

    def _of(
        self,
        asked: Asked,
        text: str,
        hold: float,
        voice: Speaker,
        take: Take | None = None,
        held: bool = False,
    ) -> Clip:
        key = key_of(
            text=text,
            asked=asked,
            hold=hold,
            voice=voice,
            take=take.digest if take else "",
            held=held,
            versions=self._versions(voice),
            language=self.client.clinic.language,
        )
        path = f"clips/{slug_of(text)}-{asked.form}-{key[:8]}.mp3"
        return Clip(
            key,
            path,
            text,
            asked.words,
            asked.focus,
            asked.form,
            asked.alone,
            hold,
            voice,
            take.path if take else "",
            take.target if take else None,
            held,
            self.client.clinic.language,
        )

    def _versions(self, voice: Speaker) -> tuple[str, ...]:
        """What the clip depends on: its voice and, should that fail, the embedded one."""
        return tuple(self.outside.versions[v] for v in dict.fromkeys((voice, "embedded")))
