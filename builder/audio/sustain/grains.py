"""Friction sustained: short grains drawn at random overlap, so that no loop is heard."""

from __future__ import annotations

import numpy as np

from builder.audio.speech import Samples, count
from builder.audio.sustain.steady_state import rms

GRAIN_S = 0.020
CUT_CHOICES = 24  # places at which the noise may be cut
CROSSFADE_S = 0.005  # seconds of each join
RAMP_S = 0.060  # in which the level goes from that of an end to that of the middle


def sustain_friction(
    part: Samples,
    wanted: int,
    rate: int,
    *,
    random: np.random.Generator,
    gain: float = 1.0,
    source: Samples | None = None,
) -> Samples:
    """`wanted` samples that begin and end as `part` does, between them `gain` times as loud.

    source: what is drawn from; all of `part` when it is not told.

    Crossfades of equal power lead from the edges into the grains. A little more is drawn than
    wanted, and cut where both crossfades are smoothest: none can be heard as a click.
    """
    offset = part.mean()  # grains turned in sign would make a rumble of it
    part = part - offset
    flat, line = flattened(part, rate)
    drawn = part
    if source is not None:
        drawn = source - source.mean()
        flat, _ = flattened(drawn, rate)
    lap = min(count(CROSSFADE_S, rate), len(part) // 4)
    own = rms(part[: 2 * lap]), rms(part[-2 * lap :])
    ends = min(line[0], own[0]), min(line[1], own[1])  # the line overshoots where the level bends
    grains = _grains(drawn, flat, wanted + CUT_CHOICES * lap, rate, random)
    fade = np.sin(np.linspace(0, np.pi / 2, lap))
    # A row for each place at which it may be cut.
    choices, places = CUT_CHOICES * lap, (CUT_CHOICES, lap)
    begin = part[:lap] * fade[::-1] + grains[:choices].reshape(places) * (fade * ends[0])
    close = grains[wanted - lap : wanted - lap + choices].reshape(places) * (fade[::-1] * ends[1])
    close += part[-lap:] * fade
    at = int(np.maximum(_steepest(begin), _steepest(close)).argmin())
    cut = at * lap
    noise = grains[cut : cut + wanted] * contour(ends[0], gain * rms(part), ends[1], wanted, rate)
    noise[:lap], noise[-lap:] = begin[at], close[at]
    return np.asarray(noise + offset)


def contour(first: float, middle: float, last: float, size: int, rate: int) -> Samples:
    """A level (or a period) over `size` samples: from that of one end to that of the middle, and
    to that of the other end."""
    ramp = min(count(RAMP_S, rate), size // 3)
    return np.interp(np.arange(size), (0, ramp, size - ramp, size), (first, middle, middle, last))


def flattened(part: Samples, rate: int) -> tuple[Samples, tuple[float, float]]:
    """`part` without its rise or fall of level, and the level of its two ends.

    The level is a straight line in decibels, fitted to the power of 5-ms pieces.
    """
    piece = min(count(0.005, rate), len(part) // 4)
    pieces = len(part) // piece
    power = (part[: pieces * piece].reshape(pieces, piece) ** 2).mean(axis=1)
    middles = (np.arange(pieces) + 0.5) * piece
    slope, offset = np.polyfit(middles, np.log(power + 1e-12) / 2, 1)
    level = np.exp(offset + slope * np.arange(len(part)))
    return part / level, (float(level[0]), float(level[-1]))


def _steepest(rows: Samples) -> Samples:
    return np.asarray(np.abs(np.diff(rows)).max(axis=1))


def _grains(
    part: Samples, flat: Samples, wanted: int, rate: int, random: np.random.Generator
) -> Samples:
    """Grains have sin windows at half overlap: sin² + cos² = 1 keeps the power of unrelated noise
    even. Each is turned round in time or in sign
    by chance, which leaves its spectrum alone, and brought to the power 1.
    """
    size = min(count(GRAIN_S, rate), 2 * (len(flat) // 3)) // 2 * 2
    half = size // 2
    pieces = -(-wanted // half) + 1
    starts = np.searchsorted(_chances(part, size), random.random(pieces))
    grains = flat[starts[:, None] + np.arange(size)] * random.choice([-1.0, 1.0], (pieces, 1))
    turned = random.random(pieces) < 0.5
    grains[turned] = grains[turned, ::-1]
    grains /= np.sqrt((grains**2).mean(axis=1, keepdims=True) + 1e-12)  # else the level would pump
    grains *= np.sin(np.pi * (np.arange(size) + 0.5) / size)
    summed = grains[1:, :half] + grains[:-1, half:]
    return np.asarray(summed.reshape(-1)[:wanted])


def _chances(part: Samples, size: int) -> Samples:
    """How likely a grain begins at each place or before: by its power, so that all of them
    together have the spectrum of the whole part.
    """
    energy = np.cumsum(np.concatenate([[0.0], part * part]))
    power = np.cumsum(energy[size:] - energy[:-size])
    return np.asarray(power / power[-1])
