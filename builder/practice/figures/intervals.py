"""How sure a share of clear tries is, and a difference of two. Pure arithmetic."""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist

Z_95 = NormalDist().inv_cdf(0.975)  # 1.959964: 2.5 % of a normal distribution lie above it


@dataclass(frozen=True)
class Rate:
    """Clear tries of all tries; at least one try. Raises ValueError for what cannot be."""

    clear: int
    tries: int

    def __post_init__(self) -> None:
        if not 0 <= self.clear <= self.tries or not self.tries:
            raise ValueError(f"{self.clear} of {self.tries} is no rate")

    @property
    def share(self) -> float:
        """0 to 1."""
        return self.clear / self.tries

    @property
    def interval(self) -> tuple[float, float]:
        """The 95 % interval of the share."""
        return wilson(self.clear, self.tries)

    def reaches(self, percent: int) -> bool:
        """Whether it is so many per cent or more, exactly: 4 of 5 are 80 %."""
        return 100 * self.clear >= percent * self.tries

    def __str__(self) -> str:
        """As in "17 of 20 (85 %)"."""
        return f"{self.clear} of {self.tries} ({self.percent})"

    @property
    def percent(self) -> str:
        """As in "79.6 %" or "80 %": to a tenth, so that 79.6 does not pass for 80."""
        return f"{100 * self.share:.1f}".removesuffix(".0") + " %"

    @property
    def surely(self) -> str:
        """The interval in words, as in "64 to 95 %"."""
        low, high = self.interval
        return f"{100 * low:.0f} to {100 * high:.0f} %"


def total(rates: list[Rate] | tuple[Rate, ...]) -> Rate:
    """All of them together; at least one."""
    return Rate(sum(one.clear for one in rates), sum(one.tries for one in rates))


def wilson(clear: int, tries: int) -> tuple[float, float]:
    """The 95 % score interval of a share, without continuity correction, 0 to 1.

    (p + z²/2n ± z √(p(1-p)/n + z²/4n²)) / (1 + z²/n): Wilson 1927, Journal of the American
    Statistical Association 22:209-212. It takes tries for independent of one another, which the
    tries of one child on one day are not quite: the truth is somewhat less sure.
    """
    share, square = clear / tries, Z_95**2 / tries
    middle = share + square / 2
    half = Z_95 * math.sqrt((share * (1 - share) + square / 4) / tries)
    low, high = (middle - half) / (1 + square), (middle + half) / (1 + square)
    return (0.0 if clear == 0 else low), (1.0 if clear == tries else high)


def difference(one: Rate, other: Rate) -> tuple[float, float]:
    """The 95 % interval of the share of one less that of the other, -1 to 1.

    From the two Wilson intervals: Newcombe 1998, Statistics in Medicine 17:873-890, method 10.
    """
    (low, high), (other_low, other_high) = one.interval, other.interval
    apart = one.share - other.share
    return (
        apart - math.hypot(one.share - low, other_high - other.share),
        apart + math.hypot(high - one.share, other.share - other_low),
    )
