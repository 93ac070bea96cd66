"""How good a recording is for one item: read, aligned with the item's phones, measured."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

from builder.audio.align.forced import (
    DOUBTFUL_SCORE,
    Alignment,
    FrameLikelihoods,
    align,
    frame_likelihoods,
)
from builder.audio.align.substitutions import likely_substitution
from builder.audio.assess.issue import Issue, Verdict
from builder.audio.assess.quality import Quality, assess_quality
from builder.audio.io.decode import decode
from builder.audio.judge.judge import faults_of_clip
from builder.audio.speech import Samples
from builder.phonetics.inventory import Sound, bare
from builder.phonetics.position import Focus, Words
from builder.problems import UsageError

# Rules of the judge of finished clips that a recording is set aside for, until somebody has heard
# it. How sharp a /ʃ/ is has a bound of its own (issues.SPECTRAL_MEAN_HZ).
COPIED = ("tail", "devoiced")


@dataclass(frozen=True)
class AssessedFile:
    """The assessment of a recording. target: in seconds of the file, None when not known."""

    target: tuple[float, float] | None
    verdict: Verdict
    issues: tuple[Issue, ...]
    rank: float
    loudness: float | None


def assess_file(
    path: str, words: Words, focus: Focus | None, sound: Sound, *, form: str, alone: bool
) -> AssessedFile:
    """Assess the file at `path`. One that cannot be read is refused, and says why."""
    try:
        samples, rate = decode(path)
    except UsageError as problem:
        why = str(problem).removeprefix(f"{path}: ").rstrip(".")
        return AssessedFile(
            None, "again", (Issue("unread", "refused", f"{_first(why)}.", ""),), 0.0, None
        )
    quality, target = assess_samples(samples, rate, words, focus, sound, form=form, alone=alone)
    seconds = (target[0] / rate, target[1] / rate) if target else None
    return AssessedFile(seconds, quality.verdict, quality.issues, quality.rank, quality.loudness)


def assess_samples(
    samples: Samples,
    rate: int,
    words: Words,
    focus: Focus | None,
    sound: Sound | None,
    *,
    form: str,
    alone: bool,
    synthetic: bool = False,
) -> tuple[Quality, tuple[int, int] | None]:
    """The quality of samples and where the target lies in them (samples).

    A sound by itself is all target; without `words` nothing is looked for. synthetic: a synthetic
    voice, which has no room and no microphone.
    """
    assess = partial(assess_quality, samples, rate, form=form, synthetic=synthetic)
    if alone or not words:
        return assess(None, sound, alone=alone), None
    frames = frame_likelihoods(samples, rate)
    aligned = align(samples, rate, words, frames) if frames else None
    if not frames or not aligned:
        return assess(None, sound, score=0.0), None
    target = aligned.span_of(words, focus) if focus else None
    substitution = ""
    if focus and sound and not synthetic:
        substitution = _substitution(frames, words, focus, sound, aligned)
    quality = assess(target, sound, score=aligned.score, substitution=substitution)
    if synthetic or quality.refused or form != "natural" or aligned.score < DOUBTFUL_SCORE:
        return quality, target
    wrong = tuple(_taught_wrong(samples, rate, words, focus, sound, aligned))
    return replace(quality, issues=(*quality.issues, *wrong)), target


def _taught_wrong(
    samples: Samples,
    rate: int,
    words: Words,
    focus: Focus | None,
    sound: Sound | None,
    aligned: Alignment,
) -> Iterator[Issue]:
    """What a child would copy with the word: the measures of finished clips that people keep."""
    last = len(words) - 1, len(words[-1])
    for fault in faults_of_clip(
        samples,
        rate,
        sound,
        aligned.span_of(words, focus) if focus else None,
        voice="recorded",
        final=focus is not None and (focus[0], focus[2]) == last,
        last=(bare(words[-1][-1]), aligned.spans[-1]),
    ):
        if fault.rule in COPIED:
            yield Issue(fault.rule, "warning", f"{fault.sentence}: listen to it.", fault.figure)


def _substitution(
    frames: FrameLikelihoods, words: Words, focus: Focus, sound: Sound, aligned: Alignment
) -> str:
    """The symbol of the sound that was said in place of `sound`; "" for none, and in what may be
    another word."""
    if aligned.score < DOUBTFUL_SCORE:
        return ""
    return likely_substitution(frames, words, focus, sound.symbol, aligned)


def _first(text: str) -> str:
    return text[:1].upper() + text[1:]
