"""Ages at which studies report a consonant as acquired: figures of a population, never a verdict
on one client. Source and population: data/*_sounds.csv."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from builder.phonetics.inventory import Sound, sound_rows


@dataclass(frozen=True, kw_only=True)
class Acquisition:
    """What the reviewed studies report for one sound.

    mean, sd:   of the studies' ages, in months.
    low, high:  the lowest and the highest of these ages, in months.
    studies:    how many there are.
    population: whom and what they looked at.
    """

    symbol: str
    mean: float
    sd: float
    low: int
    high: int
    studies: int
    population: str


@cache
def acquisitions(language: str = "en") -> dict[str, Acquisition]:
    """All figures of a language by symbol, from the earliest mean to the latest."""
    found = [_acquisition(row) for row in sound_rows(language) if row["mean"]]
    return {a.symbol: a for a in sorted(found, key=lambda a: (a.mean, a.symbol))}


def _acquisition(row: dict[str, str]) -> Acquisition:
    return Acquisition(
        symbol=row["symbol"],
        mean=float(row["mean"]),
        sd=float(row["sd"]),
        low=int(row["low"]),
        high=int(row["high"]),
        studies=int(row["studies"]),
        population=row["population"],
    )


def acquired(sound: Sound, language: str = "en") -> Acquisition | None:
    """The figures of one sound; None where the table has none (vowels, vowel + r)."""
    return acquisitions(language).get(sound.symbol)


def years_months(months: float) -> str:
    """Completed years and months as the trade writes them: 31.4 gives "2;7"."""
    return f"{int(months) // 12};{int(months) % 12}"
