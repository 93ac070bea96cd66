"""Who listened on each day of practice, what each of them marked, and their names in a sentence: by
role alone. Pure."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from builder.practice.figures.intervals import Rate, total
from builder.practice.figures.tries import Tries
from builder.text.several import joined

WORDS = {"home": "home", "other home": "the other home", "school": "school", "self": "the client"}
"""The roles in the order in which they are told."""


@dataclass(frozen=True)
class Day:
    """What was marked on a day of practice, in all and by each who listened."""

    date: datetime.date
    rate: Rate
    by_role: Mapping[str, Rate]


def days_of(tries: Iterable[Tries]) -> list[Day]:
    """The days of these tries, oldest first. A sheet that does not say whose it is, is home's."""
    found: dict[datetime.date, dict[str, list[Rate]]] = {}
    for one in tries:
        own = found.setdefault(one.day, {}).setdefault(one.helper or "home", [])
        own.append(Rate(one.clear, one.tries))
    return [
        Day(
            date,
            total([rate for rates in roles.values() for rate in rates]),
            {role: total(rates) for role, rates in roles.items()},
        )
        for date, roles in sorted(found.items())
    ]


def by_role(days: Iterable[Day]) -> dict[str, Rate]:
    """What each who listened marked on these days together."""
    found: dict[str, list[Rate]] = {}
    for day in days:
        for role, rate in day.by_role.items():
            found.setdefault(role, []).append(rate)
    return {role: total(found[role]) for role in WORDS if role in found}


def named(roles: Iterable[str]) -> str:
    """As in "home and school"; "" is home."""
    there = {role or "home" for role in roles} or {"home"}
    return joined([word for role, word in WORDS.items() if role in there])


def are(roles: Iterable[str]) -> str:
    """The verb that goes with them."""
    return "are" if len({role or "home" for role in roles}) > 1 else "is"
