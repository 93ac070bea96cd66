"""How good a recording is for one item: read, aligned with the item's phones, measured."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

from builder.audio.align.forced import (
    DOUBTFUL_SCORE,
    MISSING_WORD_CAP,
    Alignment,
    FrameLikelihoods,
    align,
    frame_likelihoods,
)
from builder.audio.align.last_syllable import lacks_last_syllable
from builder.audio.align.substitutions import likely_substitution
from builder.audio.assess.issue import Issue, Verdict
from builder.audio.assess.quality import Quality, assess_quality
from builder.audio.dsp.voice_activity import detect_voice
from builder.audio.io.decode import decode
from builder.audio.judge.fault import Fault
from builder.audio.judge.judge import faults_of_clip
from builder.audio.speech import Samples
from builder.phonetics.inventory import Sound, bare
from builder.phonetics.position import Focus, Words, flap_or_glottal
from builder.problems import UsageError

# Rules of the judge of finished clips that a recording is set aside for, until somebody has heard
# it. How sharp a /ʃ/ is has a bound of its own (target_issues.SPECTRAL_MEAN_HZ).
COPIED = ("tail", "devoiced")


@dataclass(frozen=True)
class AssessedFile:
    """The assessment of a recording. target: in seconds of the file, None when not known. mean: of
    the target's spectrum in Hz, None when not known."""

    target: tuple[float, float] | None
    verdict: Verdict
    issues: tuple[Issue, ...]
    rank: float
    loudness: float | None
    mean: float | None = None


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
    mean = quality.spectral_mean
    return AssessedFile(
        seconds, quality.verdict, quality.issues, quality.rank, quality.loudness, mean
    )


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
        quality = assess(None, sound, alone=alone)
        if alone and sound and not synthetic and not quality.refused:
            span = detect_voice(samples, rate).span(rate)
            faults = faults_of_clip(
                samples, rate, sound, span, voice="recorded", form=form, alone=True
            )
            quality = _with_faults(quality, faults)
        return quality, None
    frames = frame_likelihoods(samples, rate)
    aligned = align(samples, rate, words, frames) if frames else None
    if not frames or not aligned:
        return assess(None, sound, score=0.0), None
    if not synthetic and lacks_last_syllable(words, aligned, rate):
        aligned = replace(aligned, score=min(aligned.score, MISSING_WORD_CAP))
    target = aligned.span_of(words, focus) if focus else None
    substitution = ""
    if focus and sound and not synthetic:
        substitution = _substitution(frames, words, focus, sound, aligned)
    final = focus is None or focus[2] == len(words[focus[0]])
    linked = focus is not None and sound is not None and _linked(words, focus, sound)
    quality = assess(
        target, sound, score=aligned.score, substitution=substitution, final=final, linked=linked
    )
    if synthetic or quality.refused or form != "natural" or aligned.score < DOUBTFUL_SCORE:
        return quality, target
    last = len(words) - 1, len(words[-1])
    faults = faults_of_clip(
        samples,
        rate,
        sound,
        target,
        voice="recorded",
        final=focus is not None and (focus[0], focus[2]) == last,
        last=(bare(words[-1][-1]), aligned.spans[-1]),
    )
    return _with_faults(quality, faults), target


def _with_faults(quality: Quality, faults: tuple[Fault, ...]) -> Quality:
    """Set aside for what a child would copy with the word."""
    known = {issue.rule for issue in quality.issues}
    wrong = tuple(
        Issue(fault.rule, "warning", f"{fault.sentence}: listen to it.", fault.figure)
        for fault in faults
        if fault.rule in COPIED and fault.rule not in known
    )
    return replace(quality, issues=(*quality.issues, *wrong))


def _linked(words: Words, focus: Focus, sound: Sound) -> bool:
    """Whether the target is a flap, or a stop that runs into the next word."""
    word, first, past = focus
    runs_on = past == len(words[word]) and word + 1 < len(words)
    return bool(flap_or_glottal(words[word], first)) or (sound.manner == "stop" and runs_on)


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
