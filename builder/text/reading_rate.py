"""How fast a client of some age reads aloud, and how many targets a minute that brings."""

from __future__ import annotations

# Words a minute, by age in whole years: the median of the school year that ends at that age, in
# spring. Source: Hasbrouck & Tindal 2017, An Update to Compiled ORF Norms, Technical Report 1702
# (Behavioral Research and Teaching, University of Oregon), grades 1 to 6; six years: its winter.
MEDIANS = {6: 29, 7: 60, 8: 100, 9: 112, 10: 133, 11: 146, 12: 146}
TEENAGER = 150  # words a minute, 13 to 17 years; common practice, no source
# Words a minute. Source: Brysbaert 2019, Journal of Memory and Language 109:104047 (77 studies).
ADULT = 183
ADULT_FROM_YEARS = 18
USUAL_AGE = 9  # years, where the program gives no age; common practice, no source


def words_a_minute(age: int | None) -> int:
    """Words read aloud in a minute; under six years as at six."""
    years = USUAL_AGE if age is None else age
    if years >= ADULT_FROM_YEARS:
        return ADULT
    return MEDIANS.get(max(years, min(MEDIANS)), TEENAGER)


def targets_a_minute(targets: int, words: int, age: int | None) -> float:
    """Targets in a minute of reading aloud; 0.0 without a word."""
    return targets * words_a_minute(age) / words if words else 0.0
