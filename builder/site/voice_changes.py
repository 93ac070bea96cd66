"""Where the voice changes inside a round: said to the helper on the page, and in the proof with the
words and the reasons."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from builder.audio.voices import VOICES
from builder.audio.voices.suitability import SoundForm, suitability_of
from builder.audio.voices.unspeakable import target_of
from builder.make.clips import Facts
from builder.model.clinic import Speaker
from builder.model.plan import Clip, PlannedStep
from builder.phonetics.inventory import Sound

Spoken = tuple[str, str, Clip]
"""A word, the position of its target in it, its clip."""


@dataclass(frozen=True)
class VoiceChange:
    """One round: "natural", "long" or "pairs". lead: the voice of most of its words; others:
    (voice, why, words) for the rest; why "" where nothing but the recordings tells.
    """

    round: str
    lead: Speaker
    others: tuple[tuple[Speaker, str, tuple[str, ...]], ...]


def voice_changes(step: PlannedStep, facts: Mapping[str, Facts]) -> tuple[VoiceChange, ...]:
    """The rounds of a step in which more than one voice is heard."""
    return tuple(found for name, said in _rounds(step) if (found := _change(name, said, facts)))


@dataclass(frozen=True)
class LedRound:
    """A round that is in one voice for the sake of that: the voice that was asked could say
    `words`, but not the rest."""

    round: str
    voice: Speaker
    words: tuple[str, ...]


def led_rounds(
    step: PlannedStep, facts: Mapping[str, Facts], asked: Speaker
) -> tuple[LedRound, ...]:
    """The rounds of a step that follow another voice than the one that was asked."""
    found = []
    for name, said in _rounds(step):
        heard = [(one, facts[one[2].key]) for one in said if one[2].key in facts]
        heard = [(one, fact) for one, fact in heard if VOICES[fact.voice].synthetic]
        voices = {fact.voice for _, fact in heard}
        if name == "pairs" or len(voices) != 1 or asked in voices:
            continue
        words = tuple(one[0] for one, fact in heard if not _why(one, fact, asked))
        if 0 < len(words) < len(heard):
            found.append(LedRound(name, voices.pop(), words))
    return tuple(found)


def _rounds(step: PlannedStep) -> Iterator[tuple[str, list[Spoken]]]:
    forms = {one.form for one in step.rounds if not one.contrast}
    if "long" in forms:
        yield "long", [(i.text, i.position, i.long) for i in step.items if i.long]
    if "natural" in forms:
        yield "natural", [(i.text, i.position, i.natural) for i in step.items if i.natural]
    if any(one.contrast for one in step.rounds):
        yield "pairs", list(_pairs(step))


def _pairs(step: PlannedStep) -> Iterator[Spoken]:
    said = {item.id: item for item in step.said}
    own = ((said[one].natural, said[other].natural) for one, other in step.pairs)
    for ids, clips in zip(step.pairs, step.paired or own, strict=True):
        for name, clip in zip(ids, clips, strict=True):
            if clip:
                yield said[name].text, said[name].position, clip


def _change(name: str, said: list[Spoken], facts: Mapping[str, Facts]) -> VoiceChange | None:
    heard = [(one, facts[one[2].key]) for one in said if one[2].key in facts]
    voices = Counter(fact.voice for _, fact in heard)
    if len(voices) < 2:
        return None
    lead = voices.most_common(1)[0][0]
    others: dict[tuple[Speaker, str], list[str]] = {}
    for one, fact in heard:
        if fact.voice != lead:
            others.setdefault((fact.voice, _why(one, fact, lead)), []).append(one[0])
    return VoiceChange(
        name,
        lead,
        tuple((voice, why, tuple(dict.fromkeys(w))) for (voice, why), w in others.items()),
    )


def _why(said: Spoken, fact: Facts, lead: Speaker) -> str:
    """Why not the voice that leads, a clause without a stop at its end."""
    _, position, clip = said
    if fact.instead:
        return fact.instead.rstrip(".")
    if not (VOICES[fact.voice].synthetic and VOICES[lead].synthetic):
        return ""
    sound = _target(clip)
    form: SoundForm = "alone" if clip.alone else clip.form
    known = suitability_of(lead, sound.symbol, form, position) if sound else None
    return known.reason if known and not known.offered else ""


def _target(clip: Clip) -> Sound | None:
    """None for a word that holds no target."""
    try:
        return target_of(clip) if clip.focus or clip.alone else None
    except ValueError:
        return None
