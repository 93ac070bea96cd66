"""The long form: the steady middle of the target made longer inside the real clip, all else
left as it is.

Without voice the middle becomes an overlap-add of short grains drawn at random, so that no loop
is heard; with voice it becomes a waveform-similarity overlap-add [1], one correlation a step.

[1] W. Verhelst, M. Roelands: An overlap-add technique based on waveform similarity (WSOLA) for
    high quality time-scale modification of speech. ICASSP 1993.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from builder.audio.spectrum import steadiest
from builder.audio.speech import Samples, Speech, count

EDGE = (0.020, 0.040)  # seconds of the target's onset and offset that stay; a seventh of it between
LEAST = 0.020  # seconds of steady middle, taken from the edges when the target is short
STEADY = 0.040  # seconds of a voiced sound that are drawn from: three periods of a low voice
GRAIN = 0.020  # seconds
CUTS = 24  # places at which the noise may be cut
STEP, LAP = 0.010, 0.005  # seconds between joins of a voiced sound, and of each join
ROVE = 0.006  # seconds around the place that is due in which the next period is looked for


def held(speech: Speech, seconds: float, *, voiced: bool, noisy: bool, seed: int) -> Speech:
    """`speech` with its target `seconds` long (a voiced one within a period of the voice).

    noisy: the target holds friction. Raises ValueError when the target is not known.
    """
    if speech.target is None:
        raise ValueError("a sound can only be held where its place is known")
    before, (start, stop) = len(speech.samples), speech.target
    left, right = _middle(speech.samples[start:stop], speech.rate, narrow=voiced and not noisy)
    left, right = start + left, start + right
    wanted = count(seconds, speech.rate) - (left - start) - (stop - right)
    middle = _longer(speech.samples[left:right], wanted, speech.rate, voiced=voiced, seed=seed)
    samples = np.concatenate([speech.samples[:left], middle, speech.samples[right:]])
    return replace(speech, samples=samples, target=(start, len(samples) - (before - stop)))


def steady(
    target: Samples, rate: int, seconds: float, *, voiced: bool, noisy: bool, seed: int
) -> Samples:
    """Nothing but the steady middle of `target`, `seconds` long and of even level."""
    left, right = _middle(target, rate, narrow=voiced and not noisy)
    core = target[left:right]
    flat, _ = _flat(core - core.mean(), rate)
    return _longer(flat, count(seconds, rate), rate, voiced=voiced, seed=seed)


def _longer(core: Samples, wanted: int, rate: int, *, voiced: bool, seed: int) -> Samples:
    longer = voiced_middle if voiced else noise_middle
    return longer(core, wanted, rate, random=np.random.default_rng(seed))


def _middle(target: Samples, rate: int, *, narrow: bool) -> tuple[int, int]:
    """The part [left, right) of the target that is made longer."""
    edge = int(np.clip(len(target) // 7, count(EDGE[0], rate), count(EDGE[1], rate)))
    edge = max(0, min(edge, (len(target) - count(LEAST, rate)) // 2))
    left, right = edge, len(target) - edge
    if narrow and right - left > count(STEADY, rate):
        left += steadiest(target[left:right], rate, count(STEADY, rate))
        right = left + count(STEADY, rate)
    return left, right


def noise_middle(core: Samples, wanted: int, rate: int, *, random: np.random.Generator) -> Samples:
    """`wanted` samples that begin and end as `core` does: random grains between its two edges.

    Crossfades of equal power lead from the edges into the grains. A little more is drawn than
    wanted, and cut where both crossfades are smoothest: none can be heard as a click.
    """
    offset = core.mean()  # grains turned in sign would make a rumble of it
    core = core - offset
    flat, level = _flat(core, rate)
    lap = min(count(LAP, rate), len(core) // 4)
    stock = _grains(core, flat, wanted + CUTS * lap, rate, random)
    fade = np.sin(np.linspace(0, np.pi / 2, lap))
    first, last = core[:lap] * fade[::-1], core[-lap:] * fade
    rise, fall = fade * level[0], fade[::-1] * level[1]

    def joins(cut: int) -> tuple[Samples, Samples]:
        end = cut + wanted
        return first + stock[cut : cut + lap] * rise, last + stock[end - lap : end] * fall

    cut = min(range(0, CUTS * lap, lap), key=lambda at: max(map(_steepest, joins(at))))
    noise = stock[cut : cut + wanted] * np.linspace(*level, wanted)
    noise[:lap], noise[-lap:] = joins(cut)
    return np.asarray(noise + offset)


def _steepest(samples: Samples) -> float:
    return float(np.abs(np.diff(samples)).max())


def _grains(
    core: Samples, flat: Samples, wanted: int, rate: int, random: np.random.Generator
) -> Samples:
    """Grains have sin windows at half overlap: sin² + cos² = 1 keeps the power of unrelated noise
    even. Each is turned round in time or in sign by chance, which leaves its spectrum alone.
    """
    size = min(count(GRAIN, rate), 2 * (len(flat) // 3)) // 2 * 2
    half = size // 2
    pieces = -(-wanted // half) + 1
    starts = np.searchsorted(_chances(core, size), random.random(pieces))
    grains = flat[starts[:, None] + np.arange(size)] * random.choice([-1.0, 1.0], (pieces, 1))
    turned = random.random(pieces) < 0.5
    grains[turned] = grains[turned, ::-1]
    grains *= np.sin(np.pi * (np.arange(size) + 0.5) / size)
    summed = grains[1:, :half] + grains[:-1, half:]
    return np.asarray(summed.reshape(-1)[:wanted])


def _chances(core: Samples, size: int) -> Samples:
    """How likely a grain begins at each place or before: by its power, so that all of them
    together have the spectrum of the core.
    """
    energy = np.cumsum(np.concatenate([[0.0], core * core]))
    power = np.cumsum(energy[size:] - energy[:-size])
    return np.asarray(power / power[-1])


def voiced_middle(core: Samples, wanted: int, rate: int, *, random: np.random.Generator) -> Samples:
    """About `wanted` samples that begin and end as `core` does, period joined to period.

    Periods are drawn at random from all of `core`, so that neither voice nor friction repeats
    itself. Joins are linear: what is alike adds up in amplitude, so that this is the crossfade
    of equal power here.
    """
    flat, level = _flat(core, rate)
    lap = min(count(LAP, rate), len(flat) // 4)
    grain = min(count(STEP, rate), (len(flat) - lap) // 2) + lap
    steps = max(2, (wanted - lap) // (grain - lap))
    sources = _chain(flat, grain, lap, random.random(steps), rate)
    grains = flat[sources[:, None] + np.arange(grain)]
    out = _ended(_joined(grains, lap), flat[-lap:], rate)
    return np.asarray(out * np.linspace(*level, len(out)))


def _chain(
    flat: Samples, grain: int, lap: int, chances: NDArray[np.float64], rate: int
) -> NDArray[np.intp]:
    """Where each grain begins: the first at 0, every other, near a place drawn by chance, where
    `flat` is most like what would have followed (normalised correlation).
    """
    sources = np.zeros(len(chances), np.intp)
    places, rove, step = len(flat) - grain, count(ROVE, rate), grain - lap
    size = 1 / _size(flat[: places + lap], lap)
    source = 0
    for k, due in enumerate((chances * places).astype(int).tolist()):
        low = max(0, min(due - rove, places - 2 * rove))
        high = min(places, due + rove) + 1
        tail = flat[source + step : source + step + lap]
        match = np.correlate(flat[low : high + lap - 1], tail, "valid") * size[low:high]
        source = low + int(match.argmax()) if k else 0
        sources[k] = source
    return sources


def _size(samples: Samples, length: int) -> Samples:
    """The root of the energy of every stretch of `length` samples."""
    energy = np.cumsum(np.concatenate([[0.0], samples * samples]))
    return np.asarray(np.sqrt(energy[length:] - energy[:-length] + 1e-12))


def _joined(grains: Samples, lap: int) -> Samples:
    """Grains, shape (n, length), one after the other; each begins over the last `lap` of one."""
    rise = np.linspace(0, 1, lap)
    grains[1:, :lap] = grains[1:, :lap] * rise + grains[:-1, -lap:] * (1 - rise)
    return np.concatenate([grains[:, :-lap].reshape(-1), grains[-1, -lap:]])


def _ended(out: Samples, end: Samples, rate: int) -> Samples:
    """`out` cut where it is most like `end`, and led over into it."""
    lap = len(end)
    low = max(0, len(out) - lap - 2 * count(STEP, rate))
    match = np.correlate(out[low:], end, "valid") / _size(out[low:], lap)
    at = low + int(match.argmax())
    rise = np.linspace(0, 1, lap)
    return np.concatenate([out[:at], out[at : at + lap] * (1 - rise) + end * rise])


def _flat(core: Samples, rate: int) -> tuple[Samples, tuple[float, float]]:
    """`core` without its rise or fall of level, and the level of its two ends.

    The level is a straight line in decibels, fitted to the power of 5-ms pieces.
    """
    piece = min(count(0.005, rate), len(core) // 4)
    pieces = len(core) // piece
    power = (core[: pieces * piece].reshape(pieces, piece) ** 2).mean(axis=1)
    middles = (np.arange(pieces) + 0.5) * piece
    slope, offset = np.polyfit(middles, np.log(power + 1e-12) / 2, 1)
    level = np.exp(offset + slope * np.arange(len(core)))
    return core / level, (float(level[0]), float(level[-1]))
