from __future__ import annotations

import numpy as np
import pytest

from builder.audio.split.sequence_match import (
    IMPOSSIBLE,
    SegmentGroup,
    SequenceMatch,
    best_alternative,
    match_sequence,
)

GOOD, BAD = 20.0, -20.0


def group(first: int, past: int, *items: int, number: int = 4, score: float = GOOD) -> SegmentGroup:
    """Segments that score well as these items, and badly as others."""
    scores = np.full(number, BAD)
    scores[list(items)] = score
    return SegmentGroup(first, past, scores)


def run(said: list[tuple[int, ...]], number: int = 4) -> tuple[SequenceMatch, list[SegmentGroup]]:
    """Segments one after the other, each of which could be these items."""
    groups = [group(at, at + 1, *items, number=number) for at, items in enumerate(said)]
    return match_sequence(len(said), number, groups), groups


def found(said: list[tuple[int, ...]], number: int = 4) -> list[tuple[int, int]]:
    """(segment, item)."""
    sequence, _ = run(said, number)
    return [(match.group.first, match.item) for match in sequence.matches]


@pytest.mark.parametrize(
    ("said", "wanted"),
    [
        pytest.param([(0,), (1,), (2,), (3,)], [(0, 0), (1, 1), (2, 2), (3, 3)], id="as written"),
        pytest.param([(0,), (), (1,), (2,), (3,)], [(0, 0), (2, 1), (3, 2), (4, 3)], id="cough"),
        pytest.param([(0,), (2,), (3,)], [(0, 0), (1, 2), (2, 3)], id="left out"),
        pytest.param(
            [(0,), (1,), (1,), (2,), (3,)],
            [(0, 0), (1, 1), (2, 1), (3, 2), (4, 3)],
            id="said again",
        ),
        pytest.param([(0,), (2,), (1,), (3,)], [(0, 0), (3, 3)], id="swapped"),
        pytest.param([(), (), ()], [], id="a remark alone"),
        pytest.param([], [], id="nothing"),
    ],
)
def test_slips_shift_nothing(said: list[tuple[int, ...]], wanted: list[tuple[int, int]]) -> None:
    got = found(said)
    if said == [(0,), (2,), (1,), (3,)]:  # one of both, whichever
        assert got[0] == wanted[0]
        assert got[-1] == wanted[-1]
        assert len(got) == 3
    else:
        assert got == wanted


def test_order_decides_between_what_sounds_alike() -> None:
    assert found([(0,), (1, 2), (1, 2), (3,)]) == [(0, 0), (1, 1), (2, 2), (3, 3)]


def test_neighbouring_segments_are_one_phrase() -> None:
    groups = [group(0, 1, 0), group(1, 2), group(2, 3), group(1, 3, 1, score=30.0), group(3, 4, 2)]
    sequence = match_sequence(4, 4, groups)
    assert [(m.group.first, m.group.past, m.item) for m in sequence.matches] == [
        (0, 1, 0),
        (1, 3, 1),
        (3, 4, 2),
    ]


def test_one_segment_is_two_items() -> None:
    both = np.array([IMPOSSIBLE, GOOD, IMPOSSIBLE])
    groups = [group(0, 1, 0), SegmentGroup(1, 2, np.full(4, BAD), both), group(2, 3, 3)]
    sequence = match_sequence(3, 4, groups)
    assert [match.items for match in sequence.matches] == [(0,), (1, 2), (3,)]


def test_the_best_alternative_to_a_clear_match_is_far_off() -> None:
    sequence, groups = run([(0,), (1,), (2,), (3,)])
    assert all(best_alternative(sequence, match, groups).cost > 10 for match in sequence.matches)


def test_a_place_as_good_is_a_close_alternative() -> None:
    groups = [group(0, 1, 0), group(1, 2, 1), group(2, 3, 1, score=GOOD - 1), group(3, 4, 2)]
    sequence = match_sequence(4, 4, groups)
    first = sequence.matches[1]
    assert best_alternative(sequence, first, groups).cost < 4  # the second saying is the last one
    assert best_alternative(sequence, first, groups).group is groups[2]


def test_a_wide_search_agrees_with_trying_everything() -> None:
    random = np.random.default_rng(5)
    for _ in range(30):
        groups = [
            SegmentGroup(first, past, random.normal(0, 6, 3))
            for first in range(4)
            for past in range(first + 1, min(first + 3, 5))
        ]
        sequence = match_sequence(4, 3, groups)
        assert float(sequence.backward[0, 0, 0]) == pytest.approx(_tried(0, 0, False, groups))
        assert float(sequence.forward[4, 3].max()) == pytest.approx(
            float(sequence.backward[0, 0, 0])
        )


def _tried(at: int, item: int, said: bool, groups: list[SegmentGroup]) -> float:
    """The best of every sequence, by the rules as they are written."""
    from builder.audio.split.sequence_match import OMISSION_COST, REPEAT_COST, STRAY_COST

    if at == 4 and item == 3:
        return 0.0
    ways = []
    if at < 4:
        ways.append(_tried(at + 1, item, said, groups) - STRAY_COST)
    if item < 3:
        ways.append(_tried(at, item + 1, False, groups) - OMISSION_COST)
    for one in groups:
        if one.first == at and item < 3:
            ways.append(one.score[item] + _tried(one.past, item + 1, True, groups))
        if one.first == at and said:
            ways.append(one.score[item - 1] - REPEAT_COST + _tried(one.past, item, True, groups))
    return float(max(ways))
