"""Two listeners on the same tries: agreement beyond chance. Pure arithmetic.

A family's marks and the therapist's own of another day share no tries; for these: `beside`.
"""

from __future__ import annotations

from dataclasses import dataclass

from builder.model.program import Role
from builder.practice.figures.intervals import Rate
from builder.practice.figures.listeners import named

ONE_SIDED = 0.9  # share of one category above which kappa says little
WORDS = (
    (0.20, "slight"),
    (0.40, "fair"),
    (0.60, "moderate"),
    (0.80, "substantial"),
    (1.00, "almost perfect"),
)


@dataclass(frozen=True)
class Agreement:
    """How many tries were clear to both, to the first or second listener alone, to neither.
    roles: who is the first.

    Raises ValueError without any.
    """

    both: int
    first: int
    second: int
    neither: int
    roles: tuple[Role, ...] = ("home",)

    def __post_init__(self) -> None:
        if min(self.both, self.first, self.second, self.neither) < 0 or not self.tries:
            raise ValueError("no tries that both have heard")

    @property
    def tries(self) -> int:
        """All of them."""
        return self.both + self.first + self.second + self.neither

    def __str__(self) -> str:
        """As in "home marked 18 of 20 clear where you heard 13; the same on 15 of 20 (75 %)", the
        first listener being home, the second the therapist."""
        of, same = self.tries, Rate(self.both + self.neither, self.tries)
        home, hers = self.both + self.first, self.both + self.second
        who = named(self.roles)
        return f"{who} marked {home} of {of} clear where you heard {hers}; the same on {same}"

    @property
    def share(self) -> float:
        """Point-by-point agreement, agreements / (agreements + disagreements), 0 to 1: Kazdin
        1982, Single-Case Research Designs."""
        return (self.both + self.neither) / self.tries

    @property
    def kappa(self) -> float | None:
        """(po - pe) / (1 - pe), pe from the margins: Cohen 1960, Educational and Psychological
        Measurement 20:37-46; None where all is in one cell, which leaves it undefined."""
        clear = (self.both + self.first) * (self.both + self.second)
        not_clear = (self.neither + self.first) * (self.neither + self.second)
        by_chance = clear + not_clear  # times tries squared, so that it is exact
        if by_chance == self.tries**2:
            return None
        agreed = (self.both + self.neither) * self.tries
        return (agreed - by_chance) / (self.tries**2 - by_chance)

    @property
    def word(self) -> str:
        """Kappa in words: Landis & Koch 1977, Biometrics 33:159-174."""
        if self.kappa is None:
            return "not defined"
        if self.kappa < 0:
            return "less than chance"
        return next(word for most, word in WORDS if self.kappa <= most)

    @property
    def one_sided(self) -> bool:
        """Whether nearly all tries were clear, or nearly none, to both together: kappa is low then
        however well they agree (Feinstein & Cicchetti 1990, Journal of Clinical Epidemiology
        43:543-549)."""
        clear = (2 * self.both + self.first + self.second) / (2 * self.tries)
        return max(clear, 1 - clear) > ONE_SIDED
