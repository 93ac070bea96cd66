"""What a recording is worth as a model of one sound: figures, remarks, a rank among takes."""

from __future__ import annotations

from dataclasses import dataclass, replace

from builder.audio.assess.faults import Faults, faults, voiced
from builder.audio.assess.issue import Remark, Word, spread
from builder.audio.assess.issues import (
    HOPELESS,
    Target,
    hopeless,
    noise_below,
    of_other,
    of_recording,
    of_target,
    of_word,
)
from builder.audio.dsp.bandwidth import edge
from builder.audio.dsp.measures import HIGHEST, spectral_mean
from builder.audio.speech import Samples, count
from builder.phonetics.inventory import Sound

__all__ = ["Quality", "Remark", "judge", "spread"]

NARROWEST = 0.030  # seconds from which a spectrum is taken at least
MENDED = {"offset", "quiet", "silence"}  # by levelling; they leave a recording good


@dataclass(frozen=True)
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

    remarks: tuple[Remark, ...]
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
        return any(remark.degree == "refused" for remark in self.remarks)

    @property
    def word(self) -> Word:
        """One word for all: good, doubtful or again."""
        if self.refused:
            return "again"
        return "doubtful" if any(r.rule not in MENDED for r in self.remarks) else "good"

    @property
    def rank(self) -> float:
        """The greater, the better of two takes: what is refused last, fewest warnings, then sure
        alignment, little noise and a wide band (about 10 points each)."""
        worst = {"good": 0.0, "doubtful": -100.0, "again": -10_000.0}[self.word]
        clean = min(60.0, 60.0 if self.noise is None else self.noise) / 6
        wide = min(12_000.0, self.bandwidth or 0.0) / 1200
        return worst - 100.0 * len(self.remarks) + 10 * (self.score or 0.0) + clean + wide


def judge(
    samples: Samples,
    rate: int,
    target: tuple[int, int] | None,
    sound: Sound | None,
    *,
    score: float | None = None,
    other: str = "",
    form: str = "natural",
    alone: bool = False,
    machine: bool = False,
) -> Quality:
    """Judge a recording of an item whose target lies at `target` (samples).

    score: of the alignment; None when nothing was aligned. other: the symbol of the sound that was
    rather said in place of `sound`. form: natural or long. alone: a sound by itself; what sounds
    is then the target. machine: a synthetic voice without a room and without silence around; only
    word and target are judged.
    """
    held = form == "long" or alone
    if machine:
        place = (0, len(samples)) if alone else target
        figures = _target(samples, rate, place, held=held) if place else None
        remarks = _of_item(score, sound, figures, form=form, alone=alone)
        return _quality(figures, remarks, len(samples) / rate, score)
    found = faults(samples, rate, target)
    place = found.spoken if alone else target
    figures = _target(samples, rate, place, found.quiet, held=held) if place else None
    remarks = _of_recording(found, rate, alone=alone)
    if not any(remark.rule in HOPELESS for remark in remarks):
        remarks += _of_item(score, sound, figures, other, form=form, alone=alone)
    return replace(
        _quality(figures, remarks, found.seconds, score),
        clipped=max(found.clipped, found.flat),
        noise=noise_below(found),
        loudness=found.loudness,
    )


def _quality(
    figures: Target | None, remarks: tuple[Remark, ...], seconds: float, score: float | None
) -> Quality:
    """Without what a microphone and a room add."""
    return Quality(
        remarks=remarks,
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
    figures: Target | None,
    other: str = "",
    *,
    form: str,
    alone: bool,
) -> tuple[Remark, ...]:
    """Of the word and the target."""
    remarks = tuple(of_word(score))
    if sound and figures:
        remarks += tuple(of_target(sound, figures, held=form == "long", alone=alone))
        remarks += tuple(of_other(sound, other))
    return remarks


def _of_recording(found: Faults, rate: int, *, alone: bool) -> tuple[Remark, ...]:
    return tuple(hopeless(found, rate, alone=alone)) or tuple(of_recording(found, rate))


def _target(
    samples: Samples,
    rate: int,
    place: tuple[int, int],
    quiet: Samples | None = None,
    *,
    held: bool,
) -> Target:
    """The band is looked for in a little more than a target that is too short for a spectrum, a
    voice only in what is held.
    quiet: where nobody speaks; None for a synthetic voice, which has neither noise nor a past."""
    start, stop = place
    more = max(0, count(NARROWEST, rate) - (stop - start)) // 2 + 1
    near = samples[max(0, start - more) : stop + more]
    reach, hidden = edge(near, rate, quiet, folds=quiet is not None)
    mean = spectral_mean(samples[start:stop], rate) if rate >= 2 * HIGHEST else None
    share = voiced(samples[start:stop], rate) if held else 1.0
    return Target(reach, hidden, mean, (stop - start) / rate, share)
