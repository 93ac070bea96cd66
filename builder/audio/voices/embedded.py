"""The voice inside the tool: espeak-ng speaks the phones that were checked and tells where each
of them lies.

Where the target lies, when neighbors change it: a flap (`water`) is spoken as the flap and is
the target's place; an n before k or g is spoken ŋ, as most people do; a stop's place begins at
its release, the closure before it is silence; the syllabic l of `bottle`, an l after its vowel
and a vowel + r are one gesture of the engine: the boundary inside it is found on the spectrum. So
are those that the engine reports late: between a voiced sound that is no stop and the vowel after
it (by up to 90 ms), and between two vowels that of an l or r (by up to 110 ms).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from builder import espeak
from builder.audio.dsp.spectrum import boundary
from builder.audio.speech import Samples, Speech
from builder.audio.voices import mnemonics
from builder.audio.voices.mnemonics import Mnemonic
from builder.phonetics.inventory import bare, is_vowel
from builder.phonetics.position import among_all

if TYPE_CHECKING:
    from builder.model.plan import Clip

# Slow, as one speaks to a young child; the engine's own pace is 175, its slowest 80.
WORDS_PER_MINUTE = 120
PACE = f"{WORDS_PER_MINUTE} words a minute"
GLIDES = ("L", "R", "W", "Y")
VOICED_OPENING = ("M", "N", "NG", "V", "DH", "Z", "ZH")
SILENCE_LEVEL = 0.002  # of full scale


@dataclass(frozen=True)
class PhoneSpan:
    """One phone: its samples [start, stop). Phones of one gesture share the same span."""

    phone: str
    start: int
    stop: int


def say(clip: Clip) -> Speech:
    """The clip's words, with the exact place of their target."""
    return speak(clip.words, clip.focus, clip.text)


def speak_syllable(phones: tuple[str, ...], focus: tuple[int, int]) -> Speech:
    """One syllable; phones [first, past) of it are the target."""
    return speak((phones,), (0, *focus))


def speak(
    words: tuple[tuple[str, ...], ...],
    focus: tuple[int, int, int] | None,
    text: str = "",
    *,
    pace: int = WORDS_PER_MINUTE,
    variant: str = "",
) -> Speech:
    """The words as one utterance; a phrase carries the stress and fall of a sentence.

    Small words of a phrase (`my`, `the`) lose their stress unless they hold the target or end it.
    pace: words a minute. variant: another speaker, by the engine's name (`f3`).
    """
    typed = _units(words, focus, text)
    mark = "?" if text.rstrip().endswith("?") else "."
    raw = espeak.speak(mnemonics.sentence(typed, mark), pace, variant)
    samples = np.frombuffer(raw.pcm, np.int16).astype(np.float64) / 32768
    spans = _spans(words, typed, raw.events)
    target = _target(samples, raw.rate, spans, words, focus) if focus else None
    return Speech(samples, raw.rate, target, "embedded")


def _units(
    words: tuple[tuple[str, ...], ...], focus: tuple[int, int, int] | None, text: str
) -> tuple[tuple[Mnemonic, ...], ...]:
    written = text.split()
    loud = {focus[0] if focus else -1, len(words) - 1}
    known = len(written) == len(words)
    return tuple(
        mnemonics.mnemonics_of(
            phones, weak=known and at not in loud and mnemonics.is_weak(written[at])
        )
        for at, phones in enumerate(words)
    )


def reported_phonemes(words: tuple[tuple[str, ...], ...]) -> tuple[str, ...]:
    """The mnemonics that the engine reports for these words, pauses and glides left out."""
    typed = _units(words, None, "")
    raw = espeak.speak(mnemonics.sentence(typed, "."), WORDS_PER_MINUTE)
    return tuple(sign for _, sign in raw.events if sign.strip("_:;?"))


def _spans(
    words: tuple[tuple[str, ...], ...],
    typed: tuple[tuple[Mnemonic, ...], ...],
    events: tuple[tuple[int, str], ...],
) -> tuple[PhoneSpan, ...]:
    """A span for every phone of all words; RuntimeError when the engine spoke something else."""
    spans: list[PhoneSpan] = []
    at = 0
    for phones, units in zip(words, typed, strict=True):
        for unit in units:
            at = _next(events, at, unit.sign)
            stop = next((s for s, _ in events[at + 1 :]), events[at][0])
            spans += [PhoneSpan(p, events[at][0], stop) for p in phones[unit.start : unit.stop]]
            at += 1
    return _joined(spans)


def _next(events: tuple[tuple[int, str], ...], at: int, sign: str) -> int:
    alike = (sign, *mnemonics.ALLOPHONES.get(sign, ()))
    for index in range(at, len(events)):
        if events[index][1] in alike:
            return index
    raise RuntimeError(f"the engine did not speak {sign}: {[s for _, s in events]}")


def _joined(spans: list[PhoneSpan]) -> tuple[PhoneSpan, ...]:
    """An l or r after its vowel sounds before it is reported: both share the vowel's span."""
    found = list(spans)
    for at in range(1, len(found)):
        left, here = found[at - 1], found[at]
        after = spans[at + 1].phone if at + 1 < len(spans) else ""
        if bare(here.phone) in ("L", "R") and is_vowel(left.phone) and not is_vowel(after):
            found[at] = PhoneSpan(here.phone, left.start, max(left.stop, left.start + 1))
    return tuple(found)


def _target(
    samples: Samples,
    rate: int,
    spans: tuple[PhoneSpan, ...],
    words: tuple[tuple[str, ...], ...],
    focus: tuple[int, int, int],
) -> tuple[int, int] | None:
    """The target's samples, without the silence of a closure beside it."""
    start, stop = (_edge(samples, rate, spans, at) for at in among_all(words, focus))
    sounding = np.flatnonzero(np.abs(samples[start:stop]) > SILENCE_LEVEL)
    return (start + int(sounding[0]), start + int(sounding[-1]) + 1) if len(sounding) else None


def _edge(samples: Samples, rate: int, spans: tuple[PhoneSpan, ...], at: int) -> int:
    """The boundary between phone `at - 1` and phone `at` (samples)."""
    if at == 0:
        return spans[0].start
    if at == len(spans):
        return spans[-1].stop
    left, right = spans[at - 1], spans[at]
    if left.start == right.start:
        return _inside(samples, rate, left.start, right.stop)
    if bare(left.phone) in VOICED_OPENING and is_vowel(right.phone):
        closed = left.start + (left.stop - left.start) * 3 // 20
        return boundary(samples, rate, closed, right.start, "level")
    if bare(left.phone) in GLIDES and is_vowel(right.phone):
        shared = spans[at + 1 : at + 2] and spans[at + 1].start == right.start
        middle = right.start + (right.stop - right.start) // (5 if shared else 2)
        return _inside(samples, rate, left.start, middle)
    if is_vowel(left.phone) and bare(right.phone) in ("L", "R"):
        return boundary(samples, rate, left.start + (left.stop - left.start) * 3 // 10, right.start)
    return right.start


def _inside(samples: Samples, rate: int, start: int, stop: int) -> int:
    """The boundary in [start, stop), looked for between its first third and its last eighth."""
    sounding = np.flatnonzero(np.abs(samples[start:stop]) > SILENCE_LEVEL)
    length = int(sounding[-1]) + 1 if len(sounding) else stop - start
    stop = start + length
    left, right = start + length * 3 // 10, stop - length // 8
    return boundary(samples, rate, left, right)
