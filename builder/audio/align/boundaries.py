"""Where on the signal one phone turns into the next, near where the aligner put it.

The aligner sees 25 ms every 10 ms. A stop's release is where the level leaps; the phone before
it ends where its closure begins; one beside a silence ends where it no longer stands out;
friction or a nasal turns into another sound where half of the way between their spectra is gone;
so does a vowel into an l or r, by the same convention as in the embedded voice. Where the signal
shows nothing of that the aligned boundary stays.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from builder.audio.dsp.spectrum import boundary
from builder.audio.speech import Samples, count
from builder.phonetics.inventory import sounds

STEP_S = 0.002  # between levels
POWER_FLOOR = 1e-12  # keeps silence finite
DIP_STEPS = 7  # levels; shorter dips are those between the periods of a low voice
SEARCH_S = 0.040  # around an aligned boundary in which it is looked for
MURMUR_MIN_S = 0.060  # seconds; a last nasal lasts longer
SEARCH_MIN_S = 0.020  # where less is left the aligned boundary stays
RELEASE_EARLY_S = 0.010  # before its aligned start in which a release may lie
RELEASE_S = 0.006  # seconds over which a release is seen
RELEASE_MIN_DB = 9.0  # less is no release (a flap, a soft voiced stop)
CLOSURE_MIN_DB = 10.0  # less is no closure that is seen (a nasal before a voiced stop)
DECAY_MAX_S = 0.100  # after the aligned end in which a sound may still die away
ABOVE_NOISE_DB = 8.0  # dB above the noise: it stands out
BELOW_PEAK_DB = {"noisy": 45.0, "sonorant": 28.0}  # dB below the loudest; what is softer is an echo

Span = tuple[int, int]
WITH_CLOSURE = ("stop", "affricate")
OBSTRUENTS = ("stop", "affricate", "fricative")


@dataclass(frozen=True)
class _Levels:
    """Levels in dB, one every `size` samples: of the samples, and of their differences, in which
    friction and releases stand out and murmur does not."""

    size: int
    dull: Samples
    sharp: Samples

    def of(self, kind: str) -> Samples:
        return self.sharp if kind in OBSTRUENTS else self.dull


def refine_boundaries(
    samples: Samples, rate: int, spans: list[Span], phones: tuple[str, ...]
) -> tuple[Span, ...]:
    """Spans of the phones, each within the samples and at least one sample long.

    A stop begins at its release: between it and the phone before lies its closure.
    """
    manners = [manner(phone) for phone in phones]
    levels = _levels(samples, rate)
    if manners[-2:] == ["vowel", "nasal"]:
        spans = spans[:-2] + _with_murmur(samples, levels, rate, spans[-2], spans[-1])
    starts, stops = _with_releases(levels, rate, spans, manners), [stop for _, stop in spans]
    for at, kind in enumerate(manners):
        here, after = (starts[at], stops[at]), [*spans, None][at + 1]
        if after is None or stops[at] < after[0]:
            past = starts[at + 1] if after else len(samples)
            stops[at] = _end(levels, rate, here, past, kind)
        elif manners[at + 1] in WITH_CLOSURE:
            stops[at] = _closure(levels, here, starts[at + 1])
        else:
            three = (kind, manners[at + 1], [*manners, ""][at + 2])
            stops[at] = starts[at + 1] = _between(samples, rate, here, after, three)
    return tuple(_within(*span, len(samples)) for span in zip(starts, stops, strict=True))


def _with_releases(levels: _Levels, rate: int, spans: list[Span], manners: list[str]) -> list[int]:
    """Where each phone starts, a stop at its release."""
    return [
        _release(levels, rate, span) if kind in WITH_CLOSURE else span[0]
        for span, kind in zip(spans, manners, strict=True)
    ]


def manner(phone: str) -> str:
    """stop, affricate, fricative, nasal, liquid, glide or vowel."""
    sound = sounds()[phone]
    return sound.manner if sound.kind == "consonant" else "vowel"


def _levels(samples: Samples, rate: int) -> _Levels:
    size = max(1, count(STEP_S, rate))

    def level(of: Samples) -> Samples:
        pieces = np.pad(of, (0, -len(of) % size)).reshape(-1, size)
        return np.asarray(10 * np.log10((pieces**2).mean(axis=1) + POWER_FLOOR))

    return _Levels(size, level(samples), level(np.diff(samples, prepend=samples[:1])))


def _between(
    samples: Samples, rate: int, left: Span, right: Span, kinds: tuple[str, str, str]
) -> int:
    """The boundary of two phones without a closure; kinds: of them and of the next one.

    A nasal opens and closes abruptly.
    """
    at = right[0]
    if _gliding(kinds):
        whole = right[1] - left[0]
        first, last = left[0] + whole * 3 // 10, right[1] - whole // 8
    elif kinds == ("vowel", "liquid", "vowel"):
        first, last = left[0] + (at - left[0]) * 3 // 10, at + (right[1] - at) * 2 // 3
    elif kinds[0] == kinds[1] or not {*kinds[:2]} & {*OBSTRUENTS, "nasal"}:
        return at
    else:
        first = max(left[0] + (at - left[0]) // 3, at - count(SEARCH_S, rate))
        last = min(right[1] - (right[1] - at) // 3, at + count(SEARCH_S, rate))
    first, last = max(first, 0), min(last, len(samples))
    if last - first < count(SEARCH_MIN_S, rate):
        return at
    return boundary(samples, rate, first, last, "jump" if "nasal" in kinds[:2] else "spectrum")


def _gliding(kinds: tuple[str, str, str]) -> bool:
    """Whether a vowel turns into the l or r of its own syllable, in one long gesture."""
    return kinds[:2] == ("vowel", "liquid") and kinds[2] != "vowel"


def _with_murmur(
    samples: Samples, levels: _Levels, rate: int, vowel: Span, nasal: Span
) -> list[Span]:
    """A vowel and a last nasal; what little is left of it may be the breath after it, the nasal
    itself being taken for the vowel (an /u/ is much like it): both are looked for again.
    """
    loud = np.flatnonzero(levels.dull > levels.dull.max() - BELOW_PEAK_DB["sonorant"]) * levels.size
    end = min(nasal[1], int(loud[-1]))
    if end - nasal[0] >= count(MURMUR_MIN_S, rate):
        return [vowel, nasal]
    first, last = vowel[0] + (end - vowel[0]) // 3, end - count(MURMUR_MIN_S, rate)
    at = boundary(samples, rate, first, max(first, last), "jump")
    return [(vowel[0], at), (at, end)]


def _release(levels: _Levels, rate: int, span: Span) -> int:
    """Where a stop's level leaps most."""
    wide = round(RELEASE_S / STEP_S)
    means = np.convolve(levels.sharp, np.ones(wide) / wide, "valid")
    leaps = means[wide:] - means[:-wide]  # the first is that into level `wide`
    first = max(0, (span[0] - count(RELEASE_EARLY_S, rate)) // levels.size - wide)
    seen = leaps[first : span[1] // levels.size - wide]
    if len(seen) == 0 or seen.max() < RELEASE_MIN_DB:
        return span[0]
    return (first + int(seen.argmax()) + wide) * levels.size


def _closure(levels: _Levels, left: Span, release: int) -> int:
    """Where the level of the phone before a stop has fallen half of the way for good."""
    first, aligned = sum(left) // 2 // levels.size, min(left[1], release)
    seen = _filled(levels.sharp[max(0, first) : release // levels.size])
    if len(seen) == 0:
        return aligned
    high, low = float(np.median(seen[: len(seen) // 3 + 1])), float(seen.min())
    above = np.flatnonzero(seen[: int(seen.argmin())] > (high + low) / 2)
    if high - low < CLOSURE_MIN_DB or len(above) == 0:
        return aligned
    return (first + int(above[-1]) + 1) * levels.size


def _end(levels: _Levels, rate: int, span: Span, past: int, kind: str) -> int:
    """Where a phone before a silence no longer stands out, at most at `past`."""
    every = levels.of(kind)
    deep = BELOW_PEAK_DB["noisy" if kind in OBSTRUENTS else "sonorant"]
    least = max(float(np.percentile(every, 5)) + ABOVE_NOISE_DB, float(every.max()) - deep)
    first = max(0, sum(span) // 2 // levels.size)
    last = min(past, span[1] + count(DECAY_MAX_S, rate)) // levels.size
    loud = _filled(every[first:last]) > least
    if len(loud) == 0 or not loud[0]:
        return span[1]
    return (first + (len(loud) if loud.all() else int(loud.argmin()))) * levels.size


def _filled(levels: Samples) -> Samples:
    """Without short dips: the greatest around each level, then the least around each of those."""
    for choose in (np.max, np.min):
        if len(levels) == 0:
            break
        wide = np.pad(levels, DIP_STEPS // 2, mode="edge")
        levels = choose(np.lib.stride_tricks.sliding_window_view(wide, DIP_STEPS), axis=1)
    return levels


def _within(start: int, stop: int, total: int) -> Span:
    start = min(max(0, start), total - 1)
    return start, min(max(start + 1, stop), total)
