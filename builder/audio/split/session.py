"""A long recording beside the list that is read in it: what sounds, and what every item is worth
at every stretch, and at neighbouring stretches taken together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from builder.audio.assess.faults import voiced
from builder.audio.speech import Samples, count
from builder.audio.split.activity import Stretch, stretches
from builder.audio.split.likelihoods import FRAME, heard
from builder.audio.split.segment_scores import rows, worths
from builder.audio.split.sequence_match import NEVER, Unit
from builder.phonetics.position import Words

LISTENED = 0.08  # seconds around a stretch in which its item is looked for
PAUSE, CLOSURE = 1.3, 0.3  # seconds of quiet at most between the words of a phrase; inside a word
QUIET_COSTS = 3.0  # nats a second of pause inside a phrase
BRIEF, SLOW, SLACK = 0.035, 0.30, 0.6  # seconds a phone lasts at least, at most; and more in all
VOICE = 0.10  # seconds of voice that a word has at least; most coughs have none
FRESH = 0.2  # neighbouring frames tell nearly the same: the worth of a frame's nepers in nats
ANY = -2.4  # nepers a frame; below it a stretch is other speech rather than an item
LIKE = -1.9  # nepers a frame; below it an item is hardly like what was said
NO_PAUSE_COSTS = 4.0  # nats: two items without a pause between them
Array = NDArray[np.float64]


@dataclass(frozen=True)
class Reading:
    """samples, their rate; the items' phones; the stretches that sound, and how many seconds of
    each are voice; what units of them are worth. fits: of every unit [first, past), how much
    likelier each item is there than any speech, in nepers a frame: as a whole, and as far as it
    comes, shape (2, items).
    """

    samples: Samples
    rate: int
    items: tuple[Words, ...]
    runs: tuple[Stretch, ...]
    voices: tuple[float, ...]
    units: tuple[Unit, ...]
    fits: dict[tuple[int, int], Array]

    def seconds(self, unit: Unit) -> float:
        """How long a unit lasts."""
        return (self.runs[unit.past - 1][1] - self.runs[unit.first][0]) / self.rate

    def phones(self, item: int) -> int:
        """How many phones an item has."""
        return sum(map(len, self.items[item]))

    def beside(self, unit: Unit) -> list[int]:
        """The stretches with a voice before and after a unit that may be parts of a phrase."""
        near = []
        if unit.first and self.runs[unit.first][0] - self.runs[unit.first - 1][1] < self._pause:
            near.append(unit.first - 1)
        past = unit.past
        if past < len(self.runs) and self.runs[past][0] - self.runs[past - 1][1] < self._pause:
            near.append(past)
        return [at for at in near if self.voices[at] >= VOICE]

    @property
    def _pause(self) -> float:
        return PAUSE * self.rate

    def fit(self, unit: Unit) -> Array:
        """Nepers a frame of each item there."""
        found: Array = self.fits[unit.first, unit.past][0]
        return found

    def nats(self, unit: Unit, *, begun: bool = False) -> Array:
        """What speaks for each item there; begun: for its beginning."""
        frames = _frames(self.runs[unit.first : unit.past], self.rate)
        found: Array = FRESH * frames * self.fits[unit.first, unit.past][int(begun)]
        return found


def read(samples: Samples, rate: int, items: Sequence[Words]) -> Reading:
    """Listen to all of it once. Without speech or items there are no units."""
    runs = stretches(samples, rate)
    if not runs or not items:
        return Reading(samples, rate, tuple(items), runs, (), (), {})
    listener = _Listener(samples, rate, tuple(items), runs)
    found = [(unit, fit) for at in range(len(runs)) for unit, fit in listener.units_from(at)]
    fits = {(unit.first, unit.past): fit for unit, fit in found}
    units = tuple(unit for unit, _ in found)
    return Reading(samples, rate, tuple(items), runs, listener.voices, units, fits)


def _frames(runs: Sequence[Stretch], rate: int) -> float:
    return sum(past - first for first, past in runs) / rate / FRAME


class _Listener:
    """What is worked out once for all units."""

    def __init__(
        self, samples: Samples, rate: int, items: tuple[Words, ...], runs: tuple[Stretch, ...]
    ) -> None:
        self.rate, self.runs = rate, runs
        self.voices = tuple(_voice(samples[first:past], rate) for first, past in runs)
        around = count(LISTENED, rate)
        self.table = heard(samples, rate, tuple((a - around, b + around) for a, b in runs))
        self.row = rows(items)
        pairs = [one + two for one, two in pairwise(items)]
        self.pairs = rows(pairs) if pairs else None
        phones = np.array([sum(map(len, words)) for words in items])
        self.words = np.array([len(words) for words in items])
        self.briefest = BRIEF * phones
        self.slowest = SLACK + SLOW * phones + PAUSE * (self.words - 1)

    def units_from(self, first: int) -> Iterator[tuple[Unit, Array]]:
        """Every unit that begins with a stretch."""
        pasts = list(self._pasts(first))
        if not pasts:
            return
        start = self._listened(first, first + 1)[0]
        stops = [self._listened(first, past)[1] for past in pasts]
        for past, nepers in zip(pasts, worths(self.table, start, stops, self.row), strict=True):
            unit = self._unit(first, past, nepers[0].astype(np.float64))
            yield unit, nepers / _frames(self.runs[first:past], self.rate)

    def _pasts(self, first: int) -> Iterator[int]:
        """Where a unit may end: not beyond a long pause, nor later than the slowest item."""
        for past in range(first + 1, len(self.runs) + 1):
            lasts = (self.runs[past - 1][1] - self.runs[first][0]) / self.rate
            quiet = self._gap(past - 1) if past > first + 1 else 0.0
            # One stretch may hold two items.
            if quiet > PAUSE or lasts > self.slowest.max() * (2 if past == first + 1 else 1):
                return
            yield past

    def _listened(self, first: int, past: int) -> tuple[int, int]:
        """[first, past) frame of a unit: a little more than sounds, at most half of the quiet."""
        around = count(LISTENED, self.rate)
        start, stop = self.runs[first][0], self.runs[past - 1][1]
        before = start - self.runs[first - 1][1] if first else start
        after = self.runs[past][0] - stop if past < len(self.runs) else around * 2
        begin = max(0, start - min(around, before // 2))
        end = stop + min(around, after // 2)
        frame = int(begin / self.rate / FRAME)
        return frame, max(frame + 1, min(len(self.table), round(end / self.rate / FRAME)))

    def _unit(self, first: int, past: int, nepers: Array) -> Unit:
        runs = self.runs[first:past]
        lasts = (runs[-1][1] - runs[0][0]) / self.rate
        gaps = [self._gap(at) for at in range(first + 1, past)]
        pauses = sum(gap > CLOSURE for gap in gaps)
        fair = FRESH * (nepers - ANY * _frames(runs, self.rate)) - QUIET_COSTS * sum(gaps)
        fits = (self.briefest <= lasts) & (lasts <= self.slowest) & (pauses < self.words)
        if min(self._voices(first, past)) < VOICE:
            fits[:] = False
        both = self._both(first, lasts) if past == first + 1 else None
        return Unit(first, past, np.where(fits, fair, NEVER), both)

    def _voices(self, first: int, past: int) -> Iterator[float]:
        """Seconds of voice in each part of a unit, between its pauses."""
        lasts = 0.0
        for at in range(first, past):
            lasts += self.voices[at]
            if at + 1 == past or self._gap(at + 1) > CLOSURE:
                yield lasts
                lasts = 0.0

    def _gap(self, at: int) -> float:
        """Seconds of quiet before a stretch."""
        return (self.runs[at][0] - self.runs[at - 1][1]) / self.rate

    def _both(self, at: int, lasts: float) -> Array | None:
        """The worth of each item together with the next in one stretch; None if it is too short."""
        fits = self.briefest[1:] + self.briefest[:-1] <= lasts
        if self.pairs is None or not fits.any() or self.voices[at] < 2 * VOICE:
            return None
        start, stop = self._listened(at, at + 1)
        nepers = worths(self.table, start, [stop], self.pairs)[0, 0].astype(np.float64)
        frames = _frames(self.runs[at : at + 1], self.rate)
        fair = FRESH * (nepers - ANY * frames) - NO_PAUSE_COSTS
        return np.where(fits & (nepers > LIKE * frames), fair, NEVER)


def _voice(run: Samples, rate: int) -> float:
    """Seconds of voice."""
    return voiced(run, rate) * len(run) / rate
