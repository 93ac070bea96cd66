"""Where in a recording somebody speaks, and how loud it is where nobody does.

Levels are K-weighted (builder.audio.measure), on the scale of LUFS, in pieces of 10 ms.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from builder.audio.dsp.measures import SHORT_BLOCK, integrated_loudness, short_loudness, weighted
from builder.audio.dsp.runs import Mask, length, runs
from builder.audio.speech import Samples, count

PIECE = 0.010  # seconds
ENDS = 0.060  # seconds; where the noise is looked for beside the soft pieces
NEAR = 8.0  # dB above the median of the soft pieces: still nobody speaking
DEEPEST = 60.0  # dB below the speech; softer pieces are all alike
ENOUGH = 0.200  # seconds that nobody speaks, without which the noise is not known
CLEAN = 42.0  # dB below the speech: softer noise is no matter
CLEAR = 15.0  # dB below the speech
PADDED = 0.06  # seconds of zeros that coders put at the ends
RISE = 10.0  # dB above the noise: somebody speaks
WEAK = 3.0  # dB above the noise: a weak sound that leads in or dies away
LEADS, TRAILS = 0.15, 0.30  # seconds that such a sound may last
DEEP = 50.0  # dB below the loudest piece; what is softer does not count
APART = 0.25  # seconds of quiet that no closure of a stop lasts
CLICK = 0.060  # seconds; what sounds for less, apart from all else, is a key or a switch
LOWEST = 1e-15  # power that stands for none


@dataclass(frozen=True)
class Presence:
    """levels: of every piece, from sample `first`; zeros at both ends of a recording tell nothing
    of its noise and are left out (`past`: where they begin again).

    loudness: LUFS, gated RMS under 400 ms; -inf for silence.
    noise:    its level; None when there is no silent part.
    quiet:    the pieces that hold nothing but noise.
    heard:    the samples from `first` to `past`, K-weighted.
    spoken:   [first, past) piece in which somebody speaks.
    """

    first: int
    past: int
    levels: Samples
    loudness: float
    noise: float | None
    quiet: Mask
    spoken: tuple[int, int]
    heard: Samples

    def span(self, rate: int, margin: float = 0.0) -> tuple[int, int]:
        """[first, past) sample that sounds, with `margin` seconds around where there are any."""
        size, more = count(PIECE, rate), count(margin, rate)
        start, stop = (self.first + at * size for at in self.spoken)
        return max(self.first, start - more), min(self.past, stop + more)


def presence(samples: Samples, rate: int, target: tuple[int, int] | None = None) -> Presence:
    """Look through a recording; its offset does not count, and `target` (samples) is no noise."""
    first, past = _stripped(samples)
    inner = samples[first:past]
    heard = weighted(inner - inner.mean(), rate) if len(inner) else inner
    levels = _levels(heard, rate)
    loudness = _loudness(heard, rate)
    zeros = min(first, len(samples) - past) > count(PADDED, rate)
    noise, quiet = _noise(levels, _outside(levels, first, target, rate), loudness, zeros=zeros)
    clear = noise is not None and noise < loudness - CLEAR
    spoken = _spoken(levels, noise if clear else None)
    return Presence(first, past, levels, loudness, noise, quiet, spoken, heard)


def _stripped(samples: Samples) -> tuple[int, int]:
    heard = np.flatnonzero(samples)
    return (int(heard[0]), int(heard[-1]) + 1) if len(heard) else (0, 0)


def _loudness(heard: Samples, rate: int) -> float:
    found = integrated_loudness(heard, rate)
    return (
        found
        if np.isfinite(found)
        else short_loudness(np.pad(heard, count(SHORT_BLOCK, rate)), rate)
    )


def _levels(heard: Samples, rate: int) -> Samples:
    size = count(PIECE, rate)
    padded = np.pad(heard, (0, -len(heard) % size)).reshape(-1, size)
    return np.asarray(-0.691 + 10 * np.log10((padded**2).mean(axis=1) + LOWEST))


def _outside(levels: Samples, first: int, target: tuple[int, int] | None, rate: int) -> Mask:
    """The pieces that do not belong to the target."""
    outside = np.ones(len(levels), bool)
    if target:
        start, stop = (max(0, at - first) // count(PIECE, rate) for at in target)
        outside[start : stop + 1] = False
    return outside


def _noise(
    levels: Samples, outside: Mask, loudness: float, *, zeros: bool
) -> tuple[float | None, Mask]:
    """The soft pieces of a recording without a silent part are speech. They count when both ends
    are about as soft, or when they are so soft that the noise must be, too.

    zeros: a gate or a hand made the silent parts zero; what is left is speech, or very noisy.
    """
    span = round(ENDS / PIECE)
    if outside.sum() < span:
        return None, np.zeros(len(levels), bool)
    soft = _soft(np.maximum(levels[outside], loudness - DEEPEST))
    quiet = outside & (levels < soft + NEAR)
    power = 10 ** (levels / 10)
    ends = 10 * np.log10(max(power[:span].mean(), power[-span:].mean())) < soft + NEAR
    ends = ends and not (zeros and soft > loudness - CLEAR)
    if not (ends and quiet.sum() * PIECE >= ENOUGH) and soft > loudness - CLEAN:
        return None, np.zeros(len(levels), bool)
    return 10 * float(np.log10(power[quiet].mean())), quiet


def _soft(levels: Samples) -> float:
    """The median of the softer of two groups, parted where they differ most (N. Otsu: A threshold
    selection method from gray-level histograms. IEEE Trans. SMC 9 (1979) 62-66).
    """
    sorted_levels = np.sort(levels)
    total, number = np.cumsum(sorted_levels), np.arange(1, len(levels))
    below, above = total[:-1] / number, (total[-1] - total[:-1]) / number[::-1]
    apart = number * number[::-1] * (below - above) ** 2
    return float(np.median(sorted_levels[: int(np.argmax(apart)) + 1]))


def _spoken(levels: Samples, noise: float | None) -> tuple[int, int]:
    floor = -np.inf if noise is None else noise
    loud = levels > max(floor + RISE, levels.max(initial=-np.inf) - DEEP)
    found = _without_clicks(_groups(loud), levels)
    if not found:
        return 0, 0
    weak = np.convolve(levels, np.ones(3) / 3, "same") > max(floor + WEAK, levels.max() - DEEP)
    first, past = found[0][0], found[-1][1]
    lead, trail = round(LEADS / PIECE), round(TRAILS / PIECE)
    first -= length(weak[max(0, first - lead) : first][::-1])
    return first, past + length(weak[past : past + trail])


def _groups(loud: Mask) -> list[tuple[int, int]]:
    """Runs of loud pieces, joined where less than APART lies between."""
    groups: list[tuple[int, int]] = []
    for first, past in runs(loud):
        if groups and (first - groups[-1][1]) * PIECE < APART:
            groups[-1] = (groups[-1][0], past)
        else:
            groups.append((first, past))
    return groups


def _without_clicks(groups: list[tuple[int, int]], levels: Samples) -> list[tuple[int, int]]:
    """Without what is short and far from all else; the group of the most energy always stays."""
    if not groups:
        return []
    power = 10 ** (levels / 10)
    most = max(groups, key=lambda group: power[slice(*group)].sum())
    return [g for g in groups if g is most or (g[1] - g[0]) * PIECE >= CLICK]
