"""Which clips a program needs, who speaks each, and under which content key."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from builder.audio.voices import LOCAL_VOICES, VOICES
from builder.model.clinic import AskedVoice, Speaker
from builder.model.dose import HOLD_S
from builder.model.plan import Clip, PlannedItem, PlannedProgram, PlannedStep
from builder.model.program import Client, Form, Item, Program, Step
from builder.phonetics.inventory import sounds
from builder.planning.one_reading import has_one_reading
from builder.planning.one_voice import Said, alike, leading_voices, speaker_of
from builder.recordings.prompts import Utterance, item_utterance, sound_utterance
from builder.recordings.takes import Take
from builder.survey.speaker import fit_voice, recorded
from builder.survey.survey import Survey
from builder.text.slugs import slug_of, stem_of
from builder.workspace.store import key_of

HISS_S = (
    0.8  # long enough to know an /s/ by its sound, heard eight times; common practice, no source
)
PRAISE_TEXT = "You did it!"
PRAISE = Utterance(
    stem_of(PRAISE_TEXT),
    "natural",
    (("Y", "UW1"), ("D", "IH1", "D"), ("IH1", "T")),
    focus=None,
    sound="",
    alone=False,
)
ClipPair = tuple[Clip | None, Clip | None]


class _Wanted(NamedTuple):
    """What a clip is to be.

    position:    of the target in the word, "" for the sound by itself.
    one_reading: whether a voice that reads spellings may be asked.
    """

    asked: Utterance
    text: str
    position: str
    hold: float = 0.0
    one_reading: bool = False


@dataclass(frozen=True)
class ClipPlanner:
    """Plans the clips of one program: a recording where there is one, else the program's voice, or
    the next that is fit to say it; none where no voice is: then the helper says it.

    voices: the version of each voice that can speak here, part of the content keys.
    said:   who speaks in the clips that were made before.
    """

    client: Client
    program: Program
    survey: Survey
    voices: Mapping[str, str]
    said: Said = field(default_factory=dict)

    def clip(self, step: Step, item: Item, form: Form) -> Clip | None:
        """The clip of one item in one form."""
        return self._clip(self._wanted(step, item, form))

    def round(self, step: Step, items: Sequence[Item], form: Form) -> tuple[Clip | None, ...]:
        """The clips of items that are practiced together, in one form: in one voice where that
        says half of them or more, and can say all that are not recorded."""
        wanted = [self._wanted(step, item, form) for item in items]
        own = tuple(self._clip(each) for each in wanted)

        def by(at: int, voice: Speaker) -> Clip | None:
            clip = own[at]
            return clip if clip and clip.voice == "recorded" else self._by(wanted[at], voice)

        tried = (alike(own, by, self.said, v) for v in leading_voices(own, self.said))
        return next(filter(None, tried), own)

    def pair(self, step: Step, items: tuple[Item, Item], own: ClipPair) -> ClipPair:
        """The natural clips of two words that are compared, in one voice where there is one for
        both. own: what is heard of them in other rounds."""
        return self._compared([self._wanted(step, item, "natural") for item in items], own)

    def alone(self) -> Clip | None:
        """The target alone: held when it can be, else released shortly."""
        sound = self.program.sound
        return self._clip(_Wanted(sound_utterance(sound), sound.spelled, "", HOLD_S))

    def hiss(self) -> tuple[Clip, Clip] | None:
        """/s/ and /ʃ/ held alone, both by the first voice that is fit for both; None without one,
        and where only the helper is to speak."""
        named = self.program.voice
        if named == "helper":
            return None
        both = [sounds()[symbol] for symbol in ("S", "SH")]
        wanted = [_Wanted(sound_utterance(one), one.spelled, "", HISS_S) for one in both]
        for voice in dict.fromkeys((named, *LOCAL_VOICES)):
            s, sh = (self._by(one, voice) for one in wanted)
            if s and sh:
                return s, sh
        return None

    def praise(self) -> Clip | None:
        """What a sitting ends with, by the program's voice or the first one on this computer; None
        where only the helper is to speak."""
        named = self.program.voice
        if named == "helper":
            return None
        order: tuple[Speaker, ...] = tuple(dict.fromkeys((named, *LOCAL_VOICES)))
        both = [self._of(PRAISE, PRAISE_TEXT, 0.0, v) for v in order if v in self.voices][:2]
        if len(both) > 1 and VOICES[both[0].voice].sends:
            return replace(both[0], instead=both[1])
        return both[0] if both else None

    def wrong(self) -> Iterator[tuple[str, Clip, Clip]]:
        """Words of the current steps as they should be and as the client says them, in one voice
        where there is one for both: by a recording of the named error, or by a voice where the
        error puts one plain sound for the target."""
        for step in self.program.current_steps:
            for item in step.items if step.level == "word" else ():
                wanted = self._wanted(step, item, "natural")
                right, wrong = self._clip(wanted), self._wrong(wanted)
                if right and wrong:
                    swapped = self._swapped(wanted) if wrong.voice != "recorded" else None
                    both = [wanted, swapped] if swapped else []
                    one, other = self._compared(both, (right, wrong))
                    yield item.text, one or right, other or wrong

    def _wanted(self, step: Step, item: Item, form: Form) -> _Wanted:
        asked = item_utterance(self.program, step, item, form)
        hold = step.hold if form == "long" else 0.0
        return _Wanted(asked, item.text, item.position, hold, self._one_reading(step, item))

    def _one_reading(self, step: Step, item: Item) -> bool:
        named = self.program.voice
        return named != "helper" and VOICES[named].reads and has_one_reading(item, step.level)

    def _wrong(self, wanted: _Wanted) -> Clip | None:
        asked = wanted.asked
        if (take := self.survey.wrong.get(asked)) and take.usable:
            return self._of(
                asked._replace(words=(), focus=None), wanted.text, 0.0, "recorded", take
            )
        swapped = self._swapped(wanted)
        return self._spoken(swapped, self.program.voice) if swapped else None

    def _swapped(self, wanted: _Wanted) -> _Wanted | None:
        """With the error's one plain sound in place of the target; None where no machine imitates
        it."""
        asked, error = wanted.asked, self.program.error
        if isinstance(error, str) or asked.focus is None or error.kind != "consonant":
            return None
        word, first, past = asked.focus
        phones = asked.words[word]
        said = (*phones[:first], *error.phones[0], *phones[past:])
        words = (*asked.words[:word], said, *asked.words[word + 1 :])
        focus = (word, first, first + 1)
        swapped = asked._replace(words=words, focus=focus, sound=error.symbol)
        # Whoever reads the spelling would say it right.
        return wanted._replace(asked=swapped, one_reading=False)

    def _compared(self, wanted: Sequence[_Wanted], own: ClipPair) -> ClipPair:
        """The clips of `own` in one voice. wanted: what they are; nothing for what no other voice
        can say."""
        heard = {speaker_of(clip, self.said) if clip else None for clip in own}
        if len(heard) == 1 or None in heard or not wanted:
            return own
        for voice in dict.fromkeys((self.program.voice, *LOCAL_VOICES)):
            if voice != "helper" and (
                found := alike(own, lambda at, to: self._by(wanted[at], to), self.said, voice)
            ):
                return found[0], found[1]
        return own

    def _clip(self, wanted: _Wanted) -> Clip | None:
        asked = wanted.asked
        if not all(asked.words):
            return None
        if source := recorded(asked, wanted.position, self.survey):
            return self._of(asked, wanted.text, wanted.hold, "recorded", *source)
        return self._spoken(wanted, self.program.voice)

    def _spoken(self, wanted: _Wanted, named: AskedVoice) -> Clip | None:
        asked, text, position, hold, one_reading = wanted
        voice = fit_voice(asked, position, named, self.voices, one_reading=one_reading)
        if voice is None:
            return None
        clip = self._of(asked, text, hold, voice)
        return (
            replace(clip, instead=self._spoken(wanted, "natural")) if VOICES[voice].sends else clip
        )

    def _by(self, wanted: _Wanted, voice: Speaker) -> Clip | None:
        """By this voice and no other; None where it is not fit for it, or was found not to be."""
        clip = self._spoken(wanted, voice) if voice != "recorded" else None
        return clip if clip and clip.voice == voice == speaker_of(clip, self.said) else None

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
        """What the clip depends on: its voice and, should that fail, those that speak then."""
        turn = (voice, *VOICES[voice].then)
        return tuple(self.voices[v] for v in turn if v in self.voices)


def clips_of(program: PlannedProgram) -> Iterator[Clip]:
    """Every clip of a program, some more than once."""
    if program.alone:
        yield program.alone
    for step in program.steps:
        for item in step.said:
            yield from (clip for clip in (item.natural, item.long) if clip)
        yield from (clip for both in step.paired for clip in both if clip)
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

    def step(planned: PlannedStep) -> PlannedStep:
        pairs = tuple((kept(one), kept(other)) for one, other in planned.paired)
        said, others = items(planned.items), items(planned.others)
        return replace(planned, items=said, others=others, paired=pairs)

    wrong = ((word, kept(right), kept(said)) for word, right, said in program.wrong)
    both = tuple((word, right, said) for word, right, said in wrong if right and said)
    steps = tuple(map(step, program.steps))
    return replace(program, alone=kept(program.alone), steps=steps, wrong=both)
