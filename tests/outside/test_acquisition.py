"""Ages of acquisition as published.

Source: Crowe & McLeod 2020, Children's English consonant acquisition in the United States: A
review, American Journal of Speech-Language Pathology 29(4):2155-2169: bands by the abstract,
figures by Table 2 (through an open research data set that copies it).
"""

from __future__ import annotations

import pytest

from builder.phonetics.acquisition import acquired, acquisitions, years_months
from builder.phonetics.inventory import sounds

# The abstract: by 2;0-2;11 ..., by 6;0-6;11 on average.
BANDS = {2: "B N M P HH W D", 3: "G K F T NG Y", 4: "V JH S CH L SH Z", 5: "R DH ZH", 6: "TH"}


@pytest.mark.parametrize(("year", "symbols"), BANDS.items())
def test_the_means_lie_in_the_bands_of_the_abstract(year: int, symbols: str) -> None:
    found = [a.symbol for a in acquisitions().values() if int(a.mean) // 12 == year]
    assert sorted(found) == sorted(symbols.split())


def test_every_consonant_has_its_figures_and_nothing_else() -> None:
    assert set(acquisitions()) == {s.symbol for s in sounds().values() if s.kind == "consonant"}


@pytest.mark.parametrize(
    ("symbol", "mean", "sd", "low", "high", "studies"),
    [
        ("B", 31.4, 7.8, 24, 48, 13),
        ("K", 37.7, 7.3, 24, 48, 13),
        ("S", 51.3, 16.3, 24, 84, 12),
        ("R", 66.6, 18.6, 30, 96, 12),
        ("ZH", 70.7, 12.2, 60, 84, 3),
        ("TH", 77.0, 7.4, 72, 96, 10),
    ],
)
def test_figures(symbol: str, mean: float, sd: float, low: int, high: int, studies: int) -> None:
    found = acquisitions()[symbol]
    assert (found.mean, found.sd, found.low, found.high, found.studies) == (
        mean,
        sd,
        low,
        high,
        studies,
    )
    assert found.population == "US English, single words"


def test_means_lie_within_their_ranges() -> None:
    assert all(a.low <= a.mean <= a.high for a in acquisitions().values())


def test_a_vowel_with_r_has_none() -> None:
    assert acquired(sounds()["ER"]) is None


# The table's own years and months beside its months.
@pytest.mark.parametrize(
    ("months", "said"), [(31.4, "2;7"), (35.7, "2;11"), (38.5, "3;2"), (66.6, "5;6"), (77.0, "6;5")]
)
def test_years_and_months(months: float, said: str) -> None:
    assert years_months(months) == said
