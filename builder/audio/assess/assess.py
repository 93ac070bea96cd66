"""What a recording is worth for one item: read, aligned with the item's phones, measured."""

from __future__ import annotations

from dataclasses import dataclass

from builder.audio.align.forced import DOUBTFUL_SCORE, align, frame_likelihoods
from builder.audio.align.substitutions import likely_substitution
from builder.audio.assess.issue import Issue, Verdict
from builder.audio.assess.quality import Quality, assess_quality
from builder.audio.io.decode import decode
from builder.audio.speech import Samples
from builder.phonetics.inventory import Sound
from builder.phonetics.position import Focus, Words
from builder.problems import UsageError


@dataclass(frozen=True)
class AssessedFile:
    """The verdict on a recording. target: in seconds of the file, None when not known."""

    target: tuple[float, float] | None
    verdict: Verdict
    issues: tuple[Issue, ...]
    rank: float
    loudness: float | None


def assess_file(
    path: str, words: Words, focus: Focus | None, sound: Sound, *, form: str, alone: bool
) -> AssessedFile:
    """Judge the file at `path`. One that cannot be read is refused, and says why."""
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
    if alone or not words:
        return assess_quality(
            samples, rate, None, sound, form=form, alone=alone, synthetic=synthetic
        ), None
    frames = frame_likelihoods(samples, rate)
    aligned = align(samples, rate, words, frames) if frames else None
    target = aligned.span_of(words, focus) if aligned and focus else None
    substitution = ""
    if aligned and frames and focus and sound and not synthetic and aligned.score >= DOUBTFUL_SCORE:
        substitution = likely_substitution(frames, words, focus, sound.symbol, aligned)
    score = aligned.score if aligned else 0.0
    quality = assess_quality(
        samples,
        rate,
        target,
        sound,
        score=score,
        substitution=substitution,
        form=form,
        synthetic=synthetic,
    )
    return quality, target


def _first(text: str) -> str:
    return text[:1].upper() + text[1:]
