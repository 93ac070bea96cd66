"""Where each phone lies in a recording, and how surely these words were said: forced alignment
with the phones that we name (path); then each border is looked for on the signal (borders).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from builder.audio.align import acoustic_model, mfcc
from builder.audio.align.acoustic_model import FILLERS, SILENCE, STATES, Table
from builder.audio.align.boundaries import refined
from builder.audio.align.pronunciation_score import goodness
from builder.audio.align.viterbi import Ids, forced
from builder.audio.dsp.voice_activity import presence
from builder.audio.speech import Samples, count
from builder.phonetics.inventory import bare
from builder.phonetics.position import Focus, Words, among_all

AROUND = 0.2  # seconds of silence before and after, as the model knows it
SHORTEST = 0.03  # seconds that one phone takes
LEVEL = 0.4  # of full scale: the peak
HISS = 3e-4  # of full scale; the model knows no digital silence
MIDDLE = mfcc.WINDOW / 2 - mfcc.HOP / 2  # samples from a frame's first to where it begins
CLOSED = ("P", "T", "K", "B", "D", "G", "CH", "JH")  # they begin with silence
LOUD, SOFT = 8.0, 3.0  # dB above the floor: no silence above, nothing said below
FLOOR = 8  # percentile of the levels; but never less than DEEP below the loudest
DEEP = 30.0  # dB
UNLIKELY = 6.0  # nepers for every 10 dB above LOUD, and half of it for every 3 dB below SOFT
DOUBTFUL = 0.5  # a score below it: this may not be the word
# The mean of a word's phones below which it is not there: none of 216 phrases that two voices said
# lay below; of 152 phrases with a word left out 139 were doubtful then.
HARDLY, LACKING = 0.4, 0.9 * DOUBTFUL
Heard = tuple[Table, int]


@dataclass(frozen=True)
class Alignment:
    """spans: of every phone of all words in order (samples). score: 0..1, how surely these are
    the words said. per_phone: the same of each phone.
    """

    spans: tuple[tuple[int, int], ...]
    score: float
    per_phone: tuple[float, ...]

    def place(self, words: Words, focus: Focus) -> tuple[int, int]:
        """The samples of the target. A stop's place begins at its release."""
        first, past = among_all(words, focus)
        return self.spans[first][0], self.spans[past - 1][1]


@dataclass(frozen=True)
class Located:
    """The samples of the target, and how surely it is in these words."""

    target: tuple[int, int]
    score: float


def locate(samples: Samples, rate: int, words: Words, focus: Focus) -> Located | None:
    """Where the target lies. focus: word, first phone and the one past the last."""
    found = align(samples, rate, words)
    return Located(found.place(words, focus), found.score) if found else None


def align(
    samples: Samples, rate: int, words: Words, heard: Heard | None = None
) -> Alignment | None:
    """The place of each phone; None when these words cannot lie in the samples: nothing sounds,
    or not long enough for so many phones (SHORTEST each).

    heard: of `hear`, where the same samples are aligned with several words.
    """
    phones = tuple(bare(phone) for word in words for phone in word)
    if not phones or len(samples) < len(phones) * count(SHORTEST, rate):
        return None
    heard = heard or hear(samples, rate)
    fitted = _fitted(heard[0], words) if heard else None
    if not heard or not fitted:
        return None
    parts, score, each = fitted
    first = heard[1]
    ends = [(first + _sample(p[0], rate), first + _sample(p[-1] + 1, rate)) for p in parts]
    if _lacks(words, each):
        score = min(score, LACKING)
    return Alignment(refined(samples, rate, ends, phones), score, each)


def per_phone(heard: Heard, words: Words) -> tuple[float, ...]:
    """How surely each phone was said, as in Alignment, without looking for where; () where the
    words cannot lie there."""
    fitted = _fitted(heard[0], words)
    return fitted[2] if fitted else ()


def _fitted(likely: Table, words: Words) -> tuple[list[Ids], float, tuple[float, ...]] | None:
    """The frames of each phone, the score of the whole and of each phone."""
    row = _row(words)
    ids = np.array([_id(name) for name in row])
    silent = [name == SILENCE for name in row]
    states = forced(likely, acoustic_model.load().stay, ids.tolist(), silent)
    if states is None:
        return None
    places = states // STATES
    parts = [np.flatnonzero(places == at) for at, quiet in enumerate(silent) if not quiet]
    return parts, *goodness(likely, STATES * ids[places] + states % STATES, parts)


def _lacks(words: Words, each: tuple[float, ...]) -> bool:
    """Whether a word of a phrase is hardly there: the rest of it may be said well all the same.

    A word of one phone (`a`) is too short to tell.
    """
    past = np.cumsum([len(phones) for phones in words])
    parts = (each[end - len(phones) : end] for phones, end in zip(words, past, strict=True))
    return len(words) > 1 and any(len(p) > 1 and np.mean(p) < HARDLY for p in parts)


def hear(samples: Samples, rate: int) -> Heard | None:
    """How likely every state is in every frame, and the sample at which the first frame begins.

    None where nothing sounds.
    """
    if not np.all(np.isfinite(samples)) or len(samples) == 0 or not np.ptp(samples):
        return None
    start, stop = presence(samples, rate).span(rate, AROUND)
    if stop - start < count(SHORTEST, rate):
        start, stop = 0, len(samples)
    features, levels = mfcc.frames(_prepared(samples[start:stop], rate))
    likely = acoustic_model.likelihoods(features)
    _weighed(likely, levels)
    return likely, start - count(AROUND, rate)


def _prepared(samples: Samples, rate: int) -> Samples:
    """At 16 kHz, at one level, with a soft hiss under it and AROUND before and after it.

    The model knows no telephones: their missing upper half becomes the lower one's mirror image
    (J. Makhoul, M. Berouti: High-frequency regeneration in speech coding systems. ICASSP 1979).
    """
    import soxr

    low = np.asarray(soxr.resample(samples - samples.mean(), rate, mfcc.RATE), np.float64)
    if rate <= mfcc.RATE // 2:
        low[1::2] = 0.0
    low *= LEVEL / max(float(np.abs(low).max()), 1e-9)
    padded = np.pad(low, count(AROUND, mfcc.RATE))
    return padded + HISS * np.random.default_rng(0).standard_normal(len(padded))


def _weighed(likely: Table, levels: Samples) -> None:
    """Make silence unlikely where it is loud, and all but stops where nothing sounds: else a soft
    /s/ and the end of a nasal pass for silence.

    levels: dB of each frame.
    """
    edge = count(AROUND, mfcc.RATE) // mfcc.HOP
    inner = levels[edge:-edge]
    floor = min(float(np.percentile(inner, FLOOR)), float(levels.max()) - DEEP)
    loud = np.clip((levels - floor - LOUD) / 10, 0, 3) * UNLIKELY
    soft = np.clip((floor + SOFT - levels) / 3, 0, 2) * UNLIKELY / 2
    likely[:, _id(SILENCE)] -= loud[:, None].astype(np.float32)
    names = acoustic_model.load().phones
    open_ = [at for at, name in enumerate(names) if name not in (SILENCE, *FILLERS, *CLOSED)]
    likely[:, open_] -= soft[:, None, None].astype(np.float32)


def _row(words: Words) -> list[str]:
    """The phones, with a silence before, between and after the words."""
    row = [SILENCE]
    for word in words:
        row += [*(bare(phone) for phone in word), SILENCE]
    return row


def _id(name: str) -> int:
    return acoustic_model.load().phones.index(name)


def _sample(frame: np.intp, rate: int) -> int:
    """Where a frame begins: between the middles of two windows."""
    return round((int(frame) * mfcc.HOP + MIDDLE) / mfcc.RATE * rate)
