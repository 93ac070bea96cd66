"""One rule of the check: what it looks at, on whose word, and whether a program may answer it."""

from __future__ import annotations

from dataclasses import dataclass

from builder.problems import Degree

UNSOURCED = "common practice, no source"
VAN_RIPER = "Van Riper, Speech Correction (1939; 9th ed. 1996), cited from memory"


@dataclass(frozen=True)
class Rule:
    """One rule. `answerable`: a `because` may answer it; untruth and unreadable input never.

    by_word: the answer holds for the words that it names, so the check itself sets `accepted`.
    """

    name: str
    degree: Degree
    about: str
    source: str
    answerable: bool = True
    by_word: bool = False


def fact(name: str, about: str, source: str = "the program itself") -> Rule:
    """A rule on what is so or not: its findings stop a build, and no reason answers them."""
    return Rule(name, "fault", about, source, answerable=False)
