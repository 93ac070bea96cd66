"""When a word is learned: by our own graded list and by the Glasgow norms.

The norms are adults' own recollection, in steps of two years. Our list says from which age children
usually know a word (common practice, no source). A word that neither has is one of older children
where there is a drawing of it, else one of adults.
"""

from __future__ import annotations

from builder.make import drawings
from builder.wordbank.norms import is_childish, known_from, norm

NO_AGE = 5  # years: what is offered where no age is told suits children around it
NO_AGE_UP_TO = 7  # years: and goes up to it
ADULT = 13  # years; from this age on every word may be known
OLDER = 8  # years
# Words that are not on our list: learned up to a figure of the norms, they are known from an age.
# Adults place words late, yet what only they named is no word of every child's day, so each step
# is one later than the norms have it. Common practice, no source.
FROM_AGE = {2.0: 2, 2.5: 4, 3.3: 6, 4.5: 8}


def from_age(word: str) -> int:
    """The age in whole years from which a child may be asked for the word: 2, 4, 6, 8, or 13."""
    listed, rated = known_from(word), norm(word)
    if listed is not None:
        return listed
    if rated and rated.learnt is not None:
        return next((age for top, age in FROM_AGE.items() if rated.learnt <= top), ADULT)
    return OLDER if drawings.find(word) else ADULT


def years(word: str) -> float:
    """About when it is learned, in years: the mean of our list and the norms, if both have it."""
    listed, rated = known_from(word), norm(word)
    figures = [float(listed)] if listed is not None else []
    if rated and rated.learnt is not None:
        figures.append(2 * rated.learnt - 0.5)  # 1 is the first two years, 2 is three to four
    return sum(figures) / len(figures) if figures else float(from_age(word))


def is_for(word: str, age: int | None) -> bool:
    """Whether a client of this age (None: not told) knows the word and would say it."""
    if age is None:
        return from_age(word) <= NO_AGE_UP_TO
    return age >= ADULT or from_age(word) <= age


def is_too_childish(word: str, age: int | None) -> bool:
    """Whether a client of this age would not want to say the word."""
    return age is not None and age >= OLDER and is_childish(word)
