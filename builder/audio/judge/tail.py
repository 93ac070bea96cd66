"""A voice after a sound that ends without one: the "uh" of `duck-uh`. A child who copies it learns
to add a vowel."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from builder.audio.dsp.runs import runs
from builder.audio.judge.fault import Fault
from builder.audio.judge.pieces import STEP_S, WINDOW_S, Pieces
from builder.audio.speech import Samples, count

# dB below the loudest voice of the clip, or below the burst of a sound alone, from which on a voice
# after the burst counts. Of 38 words of 9 speakers that end in p t k tʃ ʃ s f, well aligned, none
# has such a voice for more than 20 ms (tests/outside/real_speech.py: measured for this bound).
TAIL_DB = -20.0
TAIL_MAX_S = 0.040
# As long what stays must be clean where a tail is cut off: the burst of a stop lasts 10 to 30 ms
# (common practice, no source); of friction listeners need 50 ms (A. Jongman, JASA 85 (1989)
# 1718-1725).
BURST_MIN_S, FRICTION_MIN_S = 0.015, 0.050
STOPS = ("P", "T", "K")
# dB by which a voice rises behind a closure, to count as another vowel. Of 130 words of each of two
# voices that end without a voice, only one that is said with such a vowel rises so far.
RISE_DB = 6.0
CUT_FROM_S = 0.015  # a shorter tail stays: it cannot be heard as a syllable
CUT_FADE_S = 0.005
SENTENCE = "A voice sounds after /{ipa}/, which ends without one: it would be copied as “uh”"


@dataclass(frozen=True)
class Tail:
    """The voice after a release: seconds from the start of the samples, how long it sounds, and its
    level in dB beside the voice before it, or beside the burst."""

    start: float
    seconds: float
    level: float


def voiced_tail(found: Pieces, span: tuple[int, int], *, alone: bool) -> Tail | None:
    """The voice after the release in `span` (samples), to the end of the clip.

    span: the last sound; it is voiceless. alone: the clip holds nothing else.
    """
    step = STEP_S * found.rate
    first = int(span[0] / step)
    past = max(first + 1, int(span[1] / step))
    friction = found.friction[first:past]
    if not len(friction):
        return None
    burst = first + int(friction.argmax())
    beside = float(friction.max()) if alone else float(found.voice.max())
    loud = found.voice > beside + TAIL_DB
    loud[:first] = False
    loud = found.voiced_among(loud)
    while burst > first and loud[burst]:
        burst -= 1  # a release that is voiced itself is none
    loud[: burst + 1] = False
    at = np.flatnonzero(loud)
    if not len(at):
        return None
    level = float(found.voice[at].max()) - beside
    return Tail(float(at[0] * STEP_S), len(at) * STEP_S, level)


def tail_faults(
    found: Pieces,
    span: tuple[int, int],
    ipa: str,
    *,
    alone: bool = False,
    vowel: tuple[int, int] | None = None,
) -> Iterator[Fault]:
    """Whether a voice that can be heard follows. vowel: the last one of the word, where known."""
    tail = voiced_tail(found, span, alone=alone)
    if vowel and not (tail and tail.seconds >= TAIL_MAX_S):
        tail = second_voice(found, (vowel[0], span[1]))
    if tail and tail.seconds >= TAIL_MAX_S:
        beside = "burst" if alone else "vowel"
        figure = f"{1000 * tail.seconds:.0f} ms, {tail.level:.0f} dB beside the {beside}"
        yield Fault("tail", SENTENCE.format(ipa=ipa), figure)


def second_voice(found: Pieces, span: tuple[int, int]) -> Tail | None:
    """A voice that rises once more where one vowel is said: a vowel behind the closure that was
    taken for a part of the one before it.

    span: from the last vowel of the word to its end, which is voiceless (samples).
    """
    first, past = (int(at / (STEP_S * found.rate)) for at in span)
    level = found.voice[first:past]
    if not len(level):
        return None
    peak = float(level.max())
    # The deepest place between the loudest and each later piece; how far that one rises above it.
    top = int(level.argmax())
    valley = np.minimum.accumulate(level[top:])
    loud = (level[top:] > peak + TAIL_DB) & (level[top:] > valley + RISE_DB)
    everywhere = np.zeros(len(found.voice), bool)
    everywhere[first + top : past] = loud
    at = np.flatnonzero(found.voiced_among(everywhere))
    if not len(at):
        return None
    return Tail(float(at[0] * STEP_S), len(at) * STEP_S, float(found.voice[at].max()) - peak)


def without_tail(
    samples: Samples, rate: int, symbol: str, span: tuple[int, int], *, alone: bool = False
) -> Samples:
    """The samples up to the voice after the last sound, where enough of it is clean; else as they
    are. span: of that sound."""
    tail = voiced_tail(Pieces(samples, rate), span, alone=alone)
    if tail is None or tail.seconds < CUT_FROM_S:
        return samples
    # The first piece of a voice reaches half a window before it.
    past = count(tail.start - WINDOW_S / 2, rate)
    least = BURST_MIN_S if symbol in STOPS else FRICTION_MIN_S
    if past - _onset(samples, rate, span) < count(least, rate):
        return samples
    kept = samples[:past].copy()
    fade = count(CUT_FADE_S, rate)
    kept[past - fade :] *= np.cos(np.linspace(0, np.pi / 2, fade)) ** 2
    return kept


def _onset(samples: Samples, rate: int, span: tuple[int, int]) -> int:
    """Where the last sound begins to be heard."""
    part = np.abs(samples[slice(*span)])
    loud = runs(part > 0.1 * part.max(initial=0.0)) if len(part) else []
    return span[0] + (loud[0][0] if loud else 0)
