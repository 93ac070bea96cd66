"""Intervals and agreement against published examples, each beside its source, and SciPy."""

from __future__ import annotations

import pytest

from builder.practice.figures.agreement import Agreement
from builder.practice.figures.intervals import Rate, difference, wilson


@pytest.mark.parametrize(
    ("clear", "tries", "low", "high"),
    [
        # Newcombe 1998, Statistics in Medicine 17:857-872, Table I, method 3 (score, without
        # continuity correction).
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0000, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ],
)
def test_published_intervals(clear: int, tries: int, low: float, high: float) -> None:
    assert wilson(clear, tries) == pytest.approx((low, high), abs=5e-5)


@pytest.mark.parametrize("tries", [1, 2, 5, 10, 20, 29, 60, 500])
def test_intervals_are_those_of_scipy(tries: int) -> None:
    from scipy.stats import binomtest  # type: ignore[import-untyped]

    for clear in sorted({0, 1, tries // 3, tries // 2, tries * 4 // 5, tries - 1, tries}):
        found = binomtest(clear, tries).proportion_ci(0.95, method="wilson")
        assert wilson(clear, tries) == pytest.approx((found.low, found.high), abs=1e-9)


def test_no_interval_leaves_what_a_share_can_be() -> None:
    for tries in range(1, 400):
        assert wilson(0, tries)[0] == 0
        assert wilson(tries, tries)[1] == 1


@pytest.mark.parametrize(
    ("one", "other", "low", "high"),
    [
        # Newcombe 1998, Statistics in Medicine 17:873-890, Table II, method 10.
        (Rate(56, 70), Rate(48, 80), 0.0524, 0.3339),
        (Rate(9, 10), Rate(3, 10), 0.1705, 0.8090),
        (Rate(6, 7), Rate(2, 7), 0.0582, 0.8062),
        (Rate(5, 56), Rate(0, 29), -0.0381, 0.1926),
        (Rate(0, 10), Rate(0, 10), -0.2775, 0.2775),
        (Rate(10, 10), Rate(0, 20), 0.6791, 1.0000),
        (Rate(10, 10), Rate(0, 10), 0.6075, 1.0000),
    ],
)
def test_published_differences(one: Rate, other: Rate, low: float, high: float) -> None:
    assert difference(one, other) == pytest.approx((low, high), abs=5e-5)


@pytest.mark.parametrize(
    ("cells", "share", "kappa", "word"),
    [
        # An example of statistics texts: po .70, kappa .21.
        ((12, 2, 4, 2), 0.70, 0.2105, "fair"),
        # Examples of encyclopedias: the same agreement, another kappa.
        ((20, 5, 10, 15), 0.70, 0.4, "fair"),
        ((45, 15, 25, 15), 0.60, 0.1304, "slight"),
        ((25, 35, 5, 35), 0.60, 0.2593, "fair"),
        # The paradox of Feinstein & Cicchetti 1990, and two plain ones; computed by hand.
        ((90, 5, 5, 0), 0.90, -0.0526, "less than chance"),
        ((40, 3, 2, 5), 0.90, 0.6082, "substantial"),
        ((70, 10, 5, 15), 0.85, 0.5714, "moderate"),
        ((10, 0, 0, 10), 1.00, 1.0, "almost perfect"),
        # All in one cell: not defined, neither 1 nor 0.
        ((20, 0, 0, 0), 1.00, None, "not defined"),
    ],
)
def test_agreement(
    cells: tuple[int, int, int, int], share: float, kappa: float | None, word: str
) -> None:
    found = Agreement(*cells)
    assert found.share == pytest.approx(share)
    assert found.kappa == (kappa if kappa is None else pytest.approx(kappa, abs=5e-5))
    assert found.word == word
    assert found.one_sided == (cells in ((90, 5, 5, 0), (20, 0, 0, 0)))
