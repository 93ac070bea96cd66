"""How good a recording is as a model of one sound: figures, issues, a rank among takes."""

from __future__ import annotations

from dataclasses import dataclass, replace

from builder.audio.assess.issue import Issue, Verdict
from builder.audio.assess.issues import (
    NOT_SPEECH,
    not_speech,
    recording_issues,
    signal_to_noise,
)
from builder.audio.assess.measurements import Measurements, measure
from builder.audio.assess.target import TargetMeasurements, measure_target
from builder.audio.assess.target_issues import substitution_issues, target_issues, word_issues
from builder.audio.speech import Samples
from builder.phonetics.inventory import Sound

CORRECTED = {"offset", "quiet", "silence"}  # by levelling; they leave a recording good


@dataclass(frozen=True, kw_only=True)
class Quality:
    """The verdict on one recording.

    bandwidth:     Hz that the target reaches; None without a target.
    clipped:       runs of samples at full scale or at a flat top.
    noise:         dB between speech and noise; None when nobody is ever silent.
    loudness:      LUFS, or gated RMS under 400 ms; -inf for silence, None for a synthetic voice.
    spectral_mean: Hz of the target, between 0.5 and 11 kHz.
    seconds:       of the file.
    score:         how surely the word was said, 0..1; None when nothing was looked for.
    """

    issues: tuple[Issue, ...]
    bandwidth: float | None
    clipped: int
    noise: float | None
    loudness: float | None
    spectral_mean: float | None
    seconds: float
    score: float | None

    @property
    def refused(self) -> bool:
        """Whether it must not become a clip."""
        return any(issue.severity == "refused" for issue in self.issues)

    @property
    def verdict(self) -> Verdict:
        """One word for all: good, doubtful or again."""
        if self.refused:
            return "again"
        return "doubtful" if any(r.rule not in CORRECTED for r in self.issues) else "good"

    @property
    def rank(self) -> float:
        """The greater, the better of two takes: what is refused last, fewest warnings, then sure
        alignment, little noise and a wide band (about 10 points each)."""
        worst = {"good": 0.0, "doubtful": -100.0, "again": -10_000.0}[self.verdict]
        clean = min(60.0, 60.0 if self.noise is None else self.noise) / 6
        wide = min(12_000.0, self.bandwidth or 0.0) / 1200
        return worst - 100.0 * len(self.issues) + 10 * (self.score or 0.0) + clean + wide


def assess_quality(
    samples: Samples,
    rate: int,
    target: tuple[int, int] | None,
    sound: Sound | None,
    *,
    score: float | None = None,
    substitution: str = "",
    form: str = "natural",
    alone: bool = False,
    final: bool = True,
    linked: bool = False,
    synthetic: bool = False,
) -> Quality:
    """Assess a recording of an item whose target lies at `target` (samples).

    score: of the alignment; None when nothing was aligned. substitution: the symbol of the sound
    that was said in place of `sound`; "" for none. form: natural or long. alone: a sound by itself;
    what sounds is then the target. final: the target ends its word, or may. linked: it
    is a flap, or a stop that runs into the next word: voiced, or hardly released. synthetic: by a
    voice without a room and without silence around; only word and target are assessed.
    """
    held = form == "long" or alone
    if synthetic:
        place = (0, len(samples)) if alone else target
        figures = measure_target(samples, rate, place, held=held, alone=alone) if place else None
        issues = _of_item(score, sound, figures, form=form, alone=alone)
        return _quality(figures, issues, len(samples) / rate, score)
    found = measure(samples, rate)
    place = found.spoken if alone else target
    quiet = found.noise_samples
    figures = measure_target(samples, rate, place, quiet, held=held, alone=alone) if place else None
    issues = _of_recording(found, rate, alone=alone)
    if figures and linked:
        figures = replace(figures, level=None, median=None, voice_over_friction=None)
    if not any(issue.rule in NOT_SPEECH for issue in issues):
        issues += _of_item(score, sound, figures, substitution, form=form, alone=alone, final=final)
    return replace(
        _quality(figures, issues, found.seconds, score),
        clipped=max(found.clipped, found.flat),
        noise=signal_to_noise(found),
        loudness=found.loudness,
    )


def _quality(
    figures: TargetMeasurements | None,
    issues: tuple[Issue, ...],
    seconds: float,
    score: float | None,
) -> Quality:
    """Without what a microphone and a room add."""
    return Quality(
        issues=issues,
        bandwidth=figures.reach if figures else None,
        clipped=0,
        noise=None,
        loudness=None,
        spectral_mean=figures.mean if figures else None,
        seconds=seconds,
        score=score,
    )


def _of_item(
    score: float | None,
    sound: Sound | None,
    figures: TargetMeasurements | None,
    substitution: str = "",
    *,
    form: str,
    alone: bool,
    final: bool = True,
) -> tuple[Issue, ...]:
    """Of the word and the target."""
    issues = tuple(word_issues(score))
    if sound and figures:
        held = form == "long"
        issues += tuple(target_issues(sound, figures, held=held, alone=alone, final=final))
        issues += tuple(substitution_issues(sound, substitution))
    return issues


def _of_recording(found: Measurements, rate: int, *, alone: bool) -> tuple[Issue, ...]:
    return tuple(not_speech(found, rate, alone=alone)) or tuple(
        recording_issues(found, rate, alone=alone)
    )
