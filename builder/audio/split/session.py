"""A long recording beside the list that is read in it: what sounds, and what every item scores
at every segment, and at neighboring segments taken together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from builder.audio.assess.measurements import voiced
from builder.audio.dsp.voice_activity import Segment, sound_segments
from builder.audio.speech import Samples, count
from builder.audio.split.likelihoods import FRAME_S, session_likelihoods
from builder.audio.split.segment_scores import item_states, segment_scores
from builder.audio.split.sequence_match import IMPOSSIBLE, SegmentGroup
from builder.audio.split.speaker_warp import find_warp
from builder.phonetics.position import Words

CONTEXT_S = 0.08  # around a segment in which its item is looked for
PAUSE_MAX_S = 1.3  # of quiet between the words of a phrase
CLOSURE_MAX_S = 0.3  # of quiet inside a word
PAUSE_COST_PER_S = 3.0  # nats a second of pause inside a phrase
PHONE_MIN_S, PHONE_MAX_S = 0.035, 0.30
SLACK_S = 0.6  # more than that an item may last in all
VOICE_MIN_S = 0.10  # seconds of voice that a word has at least; most coughs have none
# Neighboring frames tell nearly the same: what a frame's nepers count in nats.
NATS_PER_NEPER = 0.2
OTHER_SPEECH_NEPERS = -2.4  # nepers a frame; below it a segment is other speech rather than an item
POOR_PAIR_NEPERS = -1.9  # nepers a frame; below it an item is hardly like what was said
NO_PAUSE_COST = 4.0  # nats: two items without a pause between them
Array = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class Session:
    """samples, their rate; the items' phones; the segments that sound, and how many seconds of
    each are voice; the reader's warp (speaker_warp); what groups of segments score. scores: of
    every group [first, past), how much likelier each item is there than any speech, in nepers a
    frame: as a whole, and as far as it comes, shape (2, items).
    """

    samples: Samples
    rate: int
    items: tuple[Words, ...]
    segments: tuple[Segment, ...]
    voiced_s: tuple[float, ...]
    warp: float
    groups: tuple[SegmentGroup, ...]
    scores: dict[tuple[int, int], Array]

    def seconds(self, group: SegmentGroup) -> float:
        """How long a group lasts."""
        return (self.segments[group.past - 1][1] - self.segments[group.first][0]) / self.rate

    def phones(self, item: int) -> int:
        """How many phones an item has."""
        return sum(map(len, self.items[item]))

    def neighbours(self, group: SegmentGroup) -> list[int]:
        """The segments with a voice before and after a group that may be parts of a phrase."""
        beside = ((group.first - 1, group.first), (group.past, group.past))
        near = [at for at, after in beside if self._follows_closely(after)]
        return [at for at in near if self.voiced_s[at] >= VOICE_MIN_S]

    def _follows_closely(self, at: int) -> bool:
        """Whether a segment follows another within the longest pause of a phrase."""
        if not 0 < at < len(self.segments):
            return False
        return self.segments[at][0] - self.segments[at - 1][1] < PAUSE_MAX_S * self.rate

    def nepers(self, group: SegmentGroup) -> Array:
        """Nepers a frame of each item there."""
        found: Array = self.scores[group.first, group.past][0]
        return found

    def nats(self, group: SegmentGroup, *, begun: bool = False) -> Array:
        """What speaks for each item there; begun: for its beginning."""
        frames = _frames(self.segments[group.first : group.past], self.rate)
        found: Array = NATS_PER_NEPER * frames * self.scores[group.first, group.past][int(begun)]
        return found


def score_session(samples: Samples, rate: int, items: Sequence[Words]) -> Session:
    """Score all of it once. Without speech or items there are no groups."""
    segments = sound_segments(samples, rate)
    sounding = bool(segments and items)
    scorer = _Scorer(samples, rate, tuple(items), segments) if sounding else None
    found = [
        pair for at in range(len(segments)) for pair in (scorer.groups_from(at) if scorer else ())
    ]
    return Session(
        samples=samples,
        rate=rate,
        items=tuple(items),
        segments=segments,
        voiced_s=scorer.voiced_s if scorer else (),
        warp=scorer.warp if scorer else 1.0,
        groups=tuple(group for group, _ in found),
        scores={(group.first, group.past): score for group, score in found},
    )


def _frames(segments: Sequence[Segment], rate: int) -> float:
    return sum(past - first for first, past in segments) / rate / FRAME_S


class _Scorer:
    """What is worked out once for all groups."""

    def __init__(
        self, samples: Samples, rate: int, items: tuple[Words, ...], segments: tuple[Segment, ...]
    ) -> None:
        self.rate, self.segments = rate, segments
        self.voiced_s = tuple(_voice(samples[first:past], rate) for first, past in segments)
        around = count(CONTEXT_S, rate)
        wide = tuple((a - around, b + around) for a, b in segments)
        self.states = item_states(items)
        spoken = [
            span for span, voice in zip(wide, self.voiced_s, strict=True) if voice >= VOICE_MIN_S
        ]
        self.warp = find_warp(samples, rate, spoken, items)
        self.table = session_likelihoods(samples, rate, wide, self.warp)
        pairs = [one + two for one, two in pairwise(items)]
        self.pairs = item_states(pairs) if pairs else None
        phones = np.array([sum(map(len, words)) for words in items])
        self.words = np.array([len(words) for words in items])
        self.briefest = PHONE_MIN_S * phones
        self.slowest = SLACK_S + PHONE_MAX_S * phones + PAUSE_MAX_S * (self.words - 1)

    def groups_from(self, first: int) -> Iterator[tuple[SegmentGroup, Array]]:
        """Every group that begins with a segment."""
        pasts = list(self._pasts(first))
        if not pasts:
            return
        start = self._context(first, first + 1)[0]
        stops = [self._context(first, past)[1] for past in pasts]
        for past, nepers in zip(
            pasts, segment_scores(self.table, start, stops, self.states), strict=True
        ):
            group = self._group(first, past, nepers[0].astype(np.float64))
            yield group, nepers / _frames(self.segments[first:past], self.rate)

    def _pasts(self, first: int) -> Iterator[int]:
        """Where a group may end: not beyond a long pause, nor later than the slowest item."""
        for past in range(first + 1, len(self.segments) + 1):
            lasts = (self.segments[past - 1][1] - self.segments[first][0]) / self.rate
            quiet = self._gap(past - 1) if past > first + 1 else 0.0
            # One segment may hold two items.
            if quiet > PAUSE_MAX_S or lasts > self.slowest.max() * (2 if past == first + 1 else 1):
                return
            yield past

    def _context(self, first: int, past: int) -> tuple[int, int]:
        """[first, past) frame of a group: a little more than sounds, at most half of the quiet."""
        around = count(CONTEXT_S, self.rate)
        start, stop = self.segments[first][0], self.segments[past - 1][1]
        before = start - self.segments[first - 1][1] if first else start
        after = self.segments[past][0] - stop if past < len(self.segments) else around * 2
        begin = max(0, start - min(around, before // 2))
        end = stop + min(around, after // 2)
        frame = int(begin / self.rate / FRAME_S)
        return frame, max(frame + 1, min(len(self.table), round(end / self.rate / FRAME_S)))

    def _group(self, first: int, past: int, nepers: Array) -> SegmentGroup:
        segments = self.segments[first:past]
        lasts = (segments[-1][1] - segments[0][0]) / self.rate
        gaps = [self._gap(at) for at in range(first + 1, past)]
        pauses = sum(gap > CLOSURE_MAX_S for gap in gaps)
        score = NATS_PER_NEPER * (
            nepers - OTHER_SPEECH_NEPERS * _frames(segments, self.rate)
        ) - PAUSE_COST_PER_S * sum(gaps)
        fits = (self.briefest <= lasts) & (lasts <= self.slowest) & (pauses < self.words)
        if min(self._voiced_parts(first, past)) < VOICE_MIN_S:
            fits[:] = False
        both = self._both(first, lasts) if past == first + 1 else None
        return SegmentGroup(first, past, np.where(fits, score, IMPOSSIBLE), both)

    def _voiced_parts(self, first: int, past: int) -> Iterator[float]:
        """Seconds of voice in each part of a group, between its pauses."""
        lasts = 0.0
        for at in range(first, past):
            lasts += self.voiced_s[at]
            if at + 1 == past or self._gap(at + 1) > CLOSURE_MAX_S:
                yield lasts
                lasts = 0.0

    def _gap(self, at: int) -> float:
        """Seconds of quiet before a segment."""
        return (self.segments[at][0] - self.segments[at - 1][1]) / self.rate

    def _both(self, at: int, lasts: float) -> Array | None:
        """The score of each item together with the next in one segment; None if it is too short."""
        fits = self.briefest[1:] + self.briefest[:-1] <= lasts
        if self.pairs is None or not fits.any() or self.voiced_s[at] < 2 * VOICE_MIN_S:
            return None
        start, stop = self._context(at, at + 1)
        nepers = segment_scores(self.table, start, [stop], self.pairs)[0, 0].astype(np.float64)
        frames = _frames(self.segments[at : at + 1], self.rate)
        score = NATS_PER_NEPER * (nepers - OTHER_SPEECH_NEPERS * frames) - NO_PAUSE_COST
        return np.where(fits & (nepers > POOR_PAIR_NEPERS * frames), score, IMPOSSIBLE)


def _voice(run: Samples, rate: int) -> float:
    """Seconds of voice."""
    return voiced(run, rate) * len(run) / rate
