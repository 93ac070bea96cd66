"""Which clips a program needs, who speaks each, and under which content key."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass, replace

from builder.audio.voices import FALLBACK, VOICES
from builder.model.clinic import Speaker
from builder.model.dose import HOLD_S
from builder.model.plan import Clip, PlannedItem, PlannedProgram
from builder.model.program import Client, Form, Item, Program, Step
from builder.planning.one_reading import has_one_reading
from builder.recordings.prompts import Utterance, item_utterance, sound_utterance
from builder.recordings.takes import Take
from builder.survey.speaker import fit_voice, recorded
from builder.survey.survey import Survey
from builder.text.slugs import slug_of
from builder.workspace.store import key_of


@dataclass(frozen=True)
class ClipPlanner:
    """Plans the clips of one program: a recording where there is one, else the program's voice, or
    the next that is fit to say it; none where no voice is: then the helper says it.

    voices: the version of each voice that can speak here, part of the content keys.
    """

    client: Client
    program: Program
    survey: Survey
    voices: Mapping[str, str]

    def clip(self, step: Step, item: Item, form: Form) -> Clip | None:
        """The clip of one item in one form."""
        if not item.phones:
            return None
        asked = item_utterance(self.program, step, item, form)
        alike = has_one_reading(item, step.level)
        return self._clip(asked, item.text, item.position, step.hold, one_reading=alike)

    def alone(self) -> Clip | None:
        """The target alone: held when it can be, else released shortly."""
        sound = self.program.sound
        asked = sound_utterance(sound)
        return self._clip(asked, sound.spelled, "", HOLD_S, one_reading=False)

    def wrong(self) -> Iterator[tuple[str, Clip, Clip]]:
        """Words of the current steps as they should be and as the client says them: by a recording
        of the named error, or by a voice where the error puts one plain sound for the target."""
        for step in self.program.current_steps:
            for item in step.items if step.level == "word" else ():
                right = self.clip(step, item, "natural")
                wrong = self._wrong(item_utterance(self.program, step, item, "natural"), item)
                if right and wrong:
                    yield item.text, right, wrong

    def _wrong(self, asked: Utterance, item: Item) -> Clip | None:
        if (take := self.survey.wrong.get(asked)) and take.usable:
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
        named = self.program.voice
        # Whoever reads the spelling would say it right.
        voice = fit_voice(swapped, item.position, named, self.voices, one_reading=False)
        return self._of(swapped, item.text, 0.0, voice) if voice else None

    def _clip(
        self, asked: Utterance, text: str, position: str, hold: float, *, one_reading: bool
    ) -> Clip | None:
        hold = hold if asked.form == "long" else 0.0
        if source := recorded(asked, position, self.survey):
            return self._of(asked, text, hold, "recorded", *source)
        named = self.program.voice
        voice = fit_voice(asked, position, named, self.voices, one_reading=one_reading)
        if voice is None:
            return None
        clip = self._of(asked, text, hold, voice)
        if not VOICES[voice].sends:
            return clip
        next_voice = fit_voice(asked, position, "natural", self.voices)
        return replace(
            clip, instead=self._of(asked, text, hold, next_voice) if next_voice else None
        )

    def _of(
        self,
        asked: Utterance,
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
            key=key,
            path=path,
            text=text,
            words=asked.words,
            focus=asked.focus,
            form=asked.form,
            alone=asked.alone,
            hold=hold,
            voice=voice,
            take=take.path if take else "",
            span=take.target if take else None,
            held=held,
            language=self.client.clinic.language,
        )

    def _versions(self, voice: Speaker) -> tuple[str, ...]:
        """What the clip depends on: its voice and, should that fail, the one that speaks then."""
        return tuple(self.voices[v] for v in dict.fromkeys((voice, FALLBACK)))


def clips_of(program: PlannedProgram) -> Iterator[Clip]:
    """Every clip of a program, some more than once."""
    if program.alone:
        yield program.alone
    for step in program.steps:
        for item in step.said:
            yield from (clip for clip in (item.natural, item.long) if clip)
    for _, right, wrong in program.wrong:
        yield from (right, wrong)


def heard(clip: Clip, made: Container[str]) -> Clip | None:
    """The clip as it is heard: itself or, where it was not made, what is heard instead."""
    either = (one for one in (clip, clip.instead) if one and one.key in made)
    return next(either, None)


def with_clips(program: PlannedProgram, made: Container[str]) -> PlannedProgram:
    """The program without the clips of which nothing is in `made`."""

    def kept(clip: Clip | None) -> Clip | None:
        return heard(clip, made) if clip else None

    def items(planned: tuple[PlannedItem, ...]) -> tuple[PlannedItem, ...]:
        return tuple(replace(i, natural=kept(i.natural), long=kept(i.long)) for i in planned)

    steps = (replace(s, items=items(s.items), others=items(s.others)) for s in program.steps)
    wrong = ((word, kept(right), kept(said)) for word, right, said in program.wrong)
    both = tuple((word, right, said) for word, right, said in wrong if right and said)
    return replace(program, alone=kept(program.alone), steps=tuple(steps), wrong=both)
