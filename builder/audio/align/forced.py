"""Where each phone lies in a recording, and how surely these words were said: forced alignment
with the phones that we name (viterbi); then each boundary is looked for on the signal (boundaries).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from builder.audio.align import acoustic_model, mfcc
from builder.audio.align.acoustic_model import FILLERS, SILENCE, STATES, Table
from builder.audio.align.boundaries import refine_boundaries
from builder.audio.align.pronunciation_score import pronunciation_scores
from builder.audio.align.viterbi import Ids, forced_path
from builder.audio.dsp.voice_activity import detect_voice
from builder.audio.speech import Samples, count
from builder.phonetics.inventory import bare
from builder.phonetics.position import Focus, Words, among_all

PADDING_S = 0.2  # seconds of silence before and after, as the model knows it
PHONE_MIN_S = 0.03  # that one phone takes
FRAME_OFFSET = (
    mfcc.WINDOW_SAMPLES / 2 - mfcc.HOP_SAMPLES / 2
)  # samples from a frame's first to where it begins
WITH_CLOSURE = ("P", "T", "K", "B", "D", "G", "CH", "JH")  # they begin with silence
LOUD_DB, SOFT_DB = 8.0, 3.0  # dB above the floor: no silence above, nothing said below
# Percentile of the levels; but never less than FLOOR_BELOW_PEAK_DB below the loudest.
FLOOR_PERCENTILE = 8
FLOOR_BELOW_PEAK_DB = 30.0  # dB
# nepers for every 10 dB above LOUD_DB, and half of it for every 3 dB below SOFT_DB.
PENALTY_NEPERS = 6.0
DOUBTFUL_SCORE = 0.5  # a score below it: this may not be the word
# The mean of a word's phones below which it is not there: none of 216 phrases that two voices said
# lay below; of 152 phrases with a word left out 139 were doubtful then.
MISSING_WORD_SCORE, MISSING_WORD_CAP = 0.4, 0.9 * DOUBTFUL_SCORE
FrameLikelihoods = tuple[Table, int]


@dataclass(frozen=True)
class Alignment:
    """spans: of every phone of all words in order (samples). score: 0..1, how surely these are
    the words said. phone_scores: the same of each phone.
    """

    spans: tuple[tuple[int, int], ...]
    score: float
    phone_scores: tuple[float, ...]

    def span_of(self, words: Words, focus: Focus) -> tuple[int, int]:
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
    return Located(found.span_of(words, focus), found.score) if found else None


def align(
    samples: Samples,
    rate: int,
    words: Words,
    known: FrameLikelihoods | None = None,
    warp: float = 1.0,
) -> Alignment | None:
    """The place of each phone; None when these words cannot lie in the samples: nothing sounds,
    or not long enough for so many phones (PHONE_MIN_S each).

    known: of `frame_likelihoods`, where the same samples are aligned with several words.
    """
    phones = tuple(bare(phone) for word in words for phone in word)
    if not phones or len(samples) < len(phones) * count(PHONE_MIN_S, rate):
        return None
    frames = known or frame_likelihoods(samples, rate, warp)
    fitted = _fitted(frames[0], words) if frames else None
    if not frames or not fitted:
        return None
    parts, score, each = fitted
    first = frames[1]
    ends = [(first + _sample(p[0], rate), first + _sample(p[-1] + 1, rate)) for p in parts]
    if _lacks_a_word(words, each):
        score = min(score, MISSING_WORD_CAP)
    return Alignment(refine_boundaries(samples, rate, ends, phones), score, each)


def phone_scores(frames: FrameLikelihoods, words: Words) -> tuple[float, ...]:
    """How surely each phone was said, as in Alignment, without looking for where; () where the
    words cannot lie there."""
    fitted = _fitted(frames[0], words)
    return fitted[2] if fitted else ()


def _fitted(likely: Table, words: Words) -> tuple[list[Ids], float, tuple[float, ...]] | None:
    """The frames of each phone, the score of the whole and of each phone."""
    row = _row(words)
    ids = np.array([_id(name) for name in row])
    silent = [name == SILENCE for name in row]
    states = forced_path(likely, acoustic_model.load().stay, ids.tolist(), silent)
    if states is None:
        return None
    places = states // STATES
    parts = [np.flatnonzero(places == at) for at, quiet in enumerate(silent) if not quiet]
    return parts, *pronunciation_scores(likely, STATES * ids[places] + states % STATES, parts)


def _lacks_a_word(words: Words, each: tuple[float, ...]) -> bool:
    """Whether a word of a phrase is hardly there: the rest of it may be said well all the same.

    A word of one phone (`a`) is too short to tell.
    """
    past = np.cumsum([len(phones) for phones in words])
    parts = (each[end - len(phones) : end] for phones, end in zip(words, past, strict=True))
    return len(words) > 1 and any(len(p) > 1 and np.mean(p) < MISSING_WORD_SCORE for p in parts)


def frame_likelihoods(samples: Samples, rate: int, warp: float = 1.0) -> FrameLikelihoods | None:
    """How likely every state is in every frame, and the sample at which the first frame begins.

    None where nothing sounds.
    """
    if not np.all(np.isfinite(samples)) or len(samples) == 0 or not np.ptp(samples):
        return None
    start, stop = detect_voice(samples, rate).span(rate, PADDING_S)
    if stop - start < count(PHONE_MIN_S, rate):
        start, stop = 0, len(samples)
    features, levels = mfcc.mfcc_features(_prepared(samples[start:stop], rate), warp)
    likely = acoustic_model.likelihoods(features)
    _penalize(likely, levels)
    return likely, start - count(PADDING_S, rate)


def _prepared(samples: Samples, rate: int) -> Samples:
    """At 16 kHz, at one level, with a soft hiss under it and PADDING_S before and after it.

    The model knows no telephones: their missing upper half becomes the lower one's mirror image
    (J. Makhoul, M. Berouti: High-frequency regeneration in speech coding systems. ICASSP 1979).
    """
    import soxr

    low = np.asarray(soxr.resample(samples - samples.mean(), rate, mfcc.RATE_HZ), np.float64)
    if rate <= mfcc.RATE_HZ // 2:
        low[1::2] = 0.0
    low *= mfcc.PEAK / max(float(np.abs(low).max()), 1e-9)
    return mfcc.dithered(np.pad(low, count(PADDING_S, mfcc.RATE_HZ)))


def _penalize(likely: Table, levels: Samples) -> None:
    """Make silence unlikely where it is loud, and all but stops where nothing sounds: else a soft
    /s/ and the end of a nasal pass for silence.

    levels: dB of each frame.
    """
    edge = count(PADDING_S, mfcc.RATE_HZ) // mfcc.HOP_SAMPLES
    inner = levels[edge:-edge]
    floor = min(
        float(np.percentile(inner, FLOOR_PERCENTILE)), float(levels.max()) - FLOOR_BELOW_PEAK_DB
    )
    loud = np.clip((levels - floor - LOUD_DB) / 10, 0, 3) * PENALTY_NEPERS
    soft = np.clip((floor + SOFT_DB - levels) / 3, 0, 2) * PENALTY_NEPERS / 2
    likely[:, _id(SILENCE)] -= loud[:, None].astype(np.float32)
    names = acoustic_model.load().phones
    open_ = [at for at, name in enumerate(names) if name not in (SILENCE, *FILLERS, *WITH_CLOSURE)]
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
    return round((int(frame) * mfcc.HOP_SAMPLES + FRAME_OFFSET) / mfcc.RATE_HZ * rate)
