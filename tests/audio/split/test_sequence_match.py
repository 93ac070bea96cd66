from __future__ import annotations

import numpy as np
import pytest

from builder.audio.split.sequence_match import NEVER, Unit, Way, best_way, rival

GOOD, BAD = 20.0, -20.0


def unit(first: int, past: int, *items: int, number: int = 4, worth: float = GOOD) -> Unit:
    """Stretches that are worth something as these items, and nothing as others."""
    worths = np.full(number, BAD)
    worths[list(items)] = worth
    return Unit(first, past, worths)


def run(said: list[tuple[int, ...]], number: int = 4) -> tuple[Way, list[Unit]]:
    """Stretches one after the other, each of which could be these items."""
    units = [unit(at, at + 1, *items, number=number) for at, items in enumerate(said)]
    return best_way(len(said), number, units), units


def found(said: list[tuple[int, ...]], number: int = 4) -> list[tuple[int, int]]:
    """(stretch, item)."""
    way, _ = run(said, number)
    return [(match.unit.first, match.item) for match in way.matches]


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


def test_neighbouring_stretches_are_one_phrase() -> None:
    units = [unit(0, 1, 0), unit(1, 2), unit(2, 3), unit(1, 3, 1, worth=30.0), unit(3, 4, 2)]
    way = best_way(4, 4, units)
    assert [(m.unit.first, m.unit.past, m.item) for m in way.matches] == [
        (0, 1, 0),
        (1, 3, 1),
        (3, 4, 2),
    ]


def test_one_stretch_is_two_items() -> None:
    both = np.array([NEVER, GOOD, NEVER])
    units = [unit(0, 1, 0), Unit(1, 2, np.full(4, BAD), both), unit(2, 3, 3)]
    way = best_way(3, 4, units)
    assert [match.said for match in way.matches] == [(0,), (1, 2), (3,)]


def test_the_rival_of_a_clear_match_is_far_off() -> None:
    way, units = run([(0,), (1,), (2,), (3,)])
    assert all(rival(way, match, units).less > 10 for match in way.matches)


def test_a_place_as_good_is_a_near_rival() -> None:
    units = [unit(0, 1, 0), unit(1, 2, 1), unit(2, 3, 1, worth=GOOD - 1), unit(3, 4, 2)]
    way = best_way(4, 4, units)
    first = way.matches[1]
    assert rival(way, first, units).less < 4  # the second saying is the last one
    assert rival(way, first, units).unit is units[2]


def test_a_wide_search_agrees_with_trying_everything() -> None:
    random = np.random.default_rng(5)
    for _ in range(30):
        units = [
            Unit(first, past, random.normal(0, 6, 3))
            for first in range(4)
            for past in range(first + 1, min(first + 3, 5))
        ]
        way = best_way(4, 3, units)
        assert float(way.after[0, 0, 0]) == pytest.approx(_tried(0, 0, False, units))
        assert float(way.before[4, 3].max()) == pytest.approx(float(way.after[0, 0, 0]))


def _tried(at: int, item: int, said: bool, units: list[Unit]) -> float:
    """The best of every way, by the rules as they are written."""
    from builder.audio.split.sequence_match import AGAIN, LEFT_OUT, STRAY

    if at == 4 and item == 3:
        return 0.0
    ways = []
    if at < 4:
        ways.append(_tried(at + 1, item, said, units) - STRAY)
    if item < 3:
        ways.append(_tried(at, item + 1, False, units) - LEFT_OUT)
    for one in units:
        if one.first == at and item < 3:
            ways.append(one.worth[item] + _tried(one.past, item + 1, True, units))
        if one.first == at and said:
            ways.append(one.worth[item - 1] - AGAIN + _tried(one.past, item, True, units))
    return float(max(ways))
