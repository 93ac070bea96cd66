"""A long recording of a list read aloud → one cut for every item, each with how sure it is.
Coughs, remarks, false starts, items said again or left out shift nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from builder.audio.align.forced import DOUBTFUL_SCORE, align
from builder.audio.dsp.voice_activity import Segment, piece_levels
from builder.audio.speech import Samples, count
from builder.audio.split import uncertainty
from builder.audio.split.sequence_match import Match, SegmentGroup, SequenceMatch, match_sequence
from builder.audio.split.session import Session, score_session
from builder.phonetics.position import Words

LEAD_S, TRAIL_S = 0.12, 0.15  # seconds of the room kept around an item
OUT_OF_ORDER_MIN_NATS = 5.0  # nats that an item must score to be found out of order
SURE_MIN_SHARE = 1 / 3  # of what was said must surely be of this list
LEVEL_PIECE_S = 0.010


@dataclass(frozen=True, kw_only=True)
class Cut:
    """An item found. span: samples to cut; spoken: those that sound. score: as of a take, 0..1.

    doubt: what is doubtful about it, "" when nothing is. other: the item that it may be instead, -1
    for none. times: how often it was said; the last one is cut.
    """

    item: int
    span: Segment
    spoken: Segment
    score: float
    doubt: str = ""
    other: int = -1
    times: int = 1

    @property
    def sure(self) -> bool:
        """Whether nothing is doubtful."""
        return not self.doubt and self.other < 0


@dataclass(frozen=True)
class Split:
    """cuts: by item. strays: what sounds and belongs to no item (samples)."""

    cuts: tuple[Cut, ...]
    strays: tuple[Segment, ...]


def split(samples: Samples, rate: int, items: Sequence[Words]) -> Split:
    """Find the items, read in this order. items: the phones of every word of each.

    Without any sound both parts of the answer are empty.
    """
    session = score_session(samples, rate, items)
    sequence = match_sequence(len(session.segments), len(session.items), session.groups)
    kept = _kept(sequence)
    cuts = {item: _cut(session, sequence, item, kept) for item in kept}
    cuts = _with_spread_doubt(session, sequence, kept, cuts)
    used = {segment for m in sequence.matches for segment in range(m.group.first, m.group.past)}
    for item, group in _elsewhere(session, used, set(cuts)):
        cuts[item] = _made(session, item, _spoken(session, group), doubt=uncertainty.OUT_OF_ORDER)
        used |= set(range(group.first, group.past))
    strays = tuple(segment for at, segment in enumerate(session.segments) if at not in used)
    return Split(_believed([cuts[item] for item in sorted(cuts)], len(strays)), strays)


def _believed(cuts: list[Cut], strays: int) -> tuple[Cut, ...]:
    """The cuts; none is sure where most is doubtful or strange: it may be another list."""
    sure = sum(cut.sure for cut in cuts)
    if sure >= SURE_MIN_SHARE * (len(cuts) + strays):
        return tuple(cuts)
    return tuple(replace(cut, doubt=uncertainty.OTHER_LIST) if cut.sure else cut for cut in cuts)


def _kept(sequence: SequenceMatch) -> dict[int, Match]:
    """The last match of every item; that of two items without a pause is that of both."""
    return {item: match for match in sequence.matches for item in match.items}


def _cut(session: Session, sequence: SequenceMatch, item: int, kept: Mapping[int, Match]) -> Cut:
    match = kept[item]
    spoken = _spoken(session, match.group)
    if match.both:
        boundary = _boundary(session, match.item, spoken)
        spoken = (spoken[0], boundary) if item == match.item else (boundary, spoken[1])
    doubt, other = uncertainty.uncertainty_of(session, sequence, match, kept)
    times = sum(item in one.items for one in sequence.matches)
    return _made(session, item, spoken, doubt=doubt, other=other, times=times)


def _with_spread_doubt(
    session: Session, sequence: SequenceMatch, kept: Mapping[int, Match], cuts: dict[int, Cut]
) -> dict[int, Cut]:
    """The cuts, also with the doubts that arise from other cuts."""
    found = dict(cuts)
    while True:
        doubtful = {item: cut.other for item, cut in found.items() if not cut.sure}
        more = uncertainty.spread_uncertainty(session, sequence, kept, doubtful)
        if not more:
            return found
        for item, (doubt, other) in more.items():
            found[item] = replace(found[item], doubt=doubt, other=other)


def _made(
    session: Session, item: int, spoken: Segment, *, doubt: str, other: int = -1, times: int = 1
) -> Cut:
    span = _with_room(session, spoken)
    found = align(
        session.samples[slice(*span)], session.rate, session.items[item], warp=session.warp
    )
    score = found.score if found else 0.0
    if not doubt and other < 0 and score < DOUBTFUL_SCORE:
        doubt = uncertainty.LOW_SCORE
    return Cut(
        item=item,
        span=span,
        spoken=spoken,
        score=score,
        doubt=doubt,
        other=other,
        times=times,
    )


def _spoken(session: Session, group: SegmentGroup) -> Segment:
    return session.segments[group.first][0], session.segments[group.past - 1][1]


def _with_room(session: Session, spoken: Segment) -> Segment:
    """A little of the room before and after, at most half-way to what sounds beside it; none where
    an item begins or ends inside a segment, without a pause."""
    start, stop = spoken
    if not _is_inside(session, start):
        before = max((past for _, past in session.segments if past <= start), default=-start)
        start = max(start - count(LEAD_S, session.rate), (before + start) // 2)
    if not _is_inside(session, stop):
        end = 2 * len(session.samples) - stop
        after = min((first for first, _ in session.segments if first >= stop), default=end)
        stop = min(stop + count(TRAIL_S, session.rate), (after + stop) // 2)
    return start, stop


def _is_inside(session: Session, sample: int) -> bool:
    return any(first < sample < past for first, past in session.segments)


def _boundary(session: Session, item: int, spoken: Segment) -> int:
    """Where in one segment an item ends and the next begins: where it is softest between them."""
    words, rate = session.items[item], session.rate
    part = session.samples[slice(*spoken)]
    found = align(part, rate, words + session.items[item + 1], warp=session.warp)
    phones = sum(map(len, words))
    if found is None:
        return sum(spoken) // 2
    left, right = (sum(found.spans[at]) // 2 for at in (phones - 1, phones))
    size = count(LEVEL_PIECE_S, rate)
    between = piece_levels(part[left : max(right, left + size)], rate)
    return spoken[0] + left + int(np.argmin(between)) * size + size // 2


def _elsewhere(
    session: Session, used: set[int], found: set[int]
) -> Iterator[tuple[int, SegmentGroup]]:
    """Items that were left out, at groups where nothing else is: said out of order."""
    free = [u for u in session.groups if not used & set(range(u.first, u.past))]
    left = [item for item in range(len(session.items)) if item not in found]
    pairs = [
        (float(u.score[i]), i, u) for u in free for i in left if u.score[i] >= OUT_OF_ORDER_MIN_NATS
    ]
    for score, item, group in sorted(pairs, key=lambda pair: -pair[0]):
        segments = set(range(group.first, group.past))
        if item in found or segments & used or score < group.score.max():
            continue
        found, used = found | {item}, used | segments
        yield item, group
