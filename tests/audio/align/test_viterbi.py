"""The searches beside trying every way there is."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from builder.audio.align.viterbi import PHONE_CHANGE_NEPERS, forced_path, free_path

FRAMES, PHONES, STATES = 8, 3, 3


def case(seed: int) -> tuple[np.ndarray, np.ndarray]:
    """Likelihoods and how likely states last, drawn at random."""
    random = np.random.default_rng(seed)
    likely = random.normal(0, 3, (FRAMES, PHONES, STATES)).astype(np.float32)
    return likely, np.log(random.uniform(0.2, 0.8, (PHONES, STATES))).astype(np.float32)


def score(states: list[tuple[int, int]], likely: np.ndarray, stay: np.ndarray) -> float:
    """Of a way through (phone, state), one a frame, every change of state paid."""
    total = sum(float(likely[t][at]) for t, at in enumerate(states))
    for left, right in itertools.pairwise(states):
        lasting = float(stay[left])
        total += lasting if left == right else float(np.log1p(-np.exp(lasting)))
    return total


def ways_through(row: list[int]) -> list[list[tuple[int, int]]]:
    """Every way to say the phones of `row` in all frames, none left out."""
    each = [(phone, state) for phone in row for state in range(STATES)]
    ways = []
    for cuts in itertools.combinations(range(1, FRAMES), len(each) - 1):
        edges = [0, *cuts, FRAMES]
        parts = zip(each, itertools.pairwise(edges), strict=True)
        ways.append([at for at, (first, past) in parts for _ in range(first, past)])
    return ways


@pytest.mark.parametrize("seed", range(6))
def test_the_best_way_of_known_phones(seed: int) -> None:
    likely, stay = case(seed)
    row, optional = [0, 1, 0], [True, False, True]
    found = forced_path(likely, stay, row, optional)
    assert found is not None
    every = [way for r in ([0, 1, 0], [0, 1], [1, 0], [1]) for way in ways_through(r)]
    best = max(score(way, likely, stay) for way in every)
    mine = [(row[at // STATES], at % STATES) for at in found.tolist()]
    assert score(mine, likely, stay) == pytest.approx(best, abs=1e-3)


def test_too_few_frames() -> None:
    likely, stay = case(0)
    assert forced_path(likely, stay, [0, 1, 2], [False, False, False]) is None
    assert forced_path(likely, stay, [0, 1, 2], [True, False, False]) is not None


@pytest.mark.parametrize("seed", range(6))
def test_the_best_way_of_any_phones(seed: int) -> None:
    likely, stay = case(seed)
    rows = [[a] for a in range(PHONES)] + [[a, b] for a in range(PHONES) for b in range(PHONES)]
    best = max(
        score(way, likely, stay) + float(PHONE_CHANGE_NEPERS) * (len(row) - 1)
        for row in rows
        for way in ways_through(row)
    )
    mine = [divmod(at, STATES) for at in free_path(likely, stay).tolist()]
    changes = sum(a != b and a[1] == STATES - 1 for a, b in itertools.pairwise(mine))
    assert score(mine, likely, stay) + float(PHONE_CHANGE_NEPERS) * changes == pytest.approx(
        best, abs=1e-3
    )
