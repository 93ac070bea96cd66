"""Clients of a caseload, from facts alone."""

from __future__ import annotations

import datetime
from dataclasses import fields, replace
from typing import TYPE_CHECKING, Any

from builder.caseload.facts import Facts, Written
from builder.practice.figures.planned import Timetable

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

TODAY = datetime.date(2026, 12, 14)  # a Monday
WEEKDAYS = frozenset(range(5))


def december(*days: int) -> frozenset[datetime.date]:
    return frozenset(datetime.date(2026, 12, day) for day in days)


def client(code: str = "finch-10", **told: Any) -> Facts:
    """A client for whom nothing waits; what is told stands in the place of that."""
    days = Timetable(
        weekdays=WEEKDAYS,
        start=datetime.date(2026, 11, 27),
        visit=datetime.date(2026, 12, 16),
        baselines=frozenset([datetime.date(2026, 11, 26)]),
    )
    plain = Written(code=code, sounds=("k",), days=replace(days, **_named(days, told)), asked=True)
    facts = Facts(written=plain, site="public/s/index.html", practiced=december(1, 2, 3, 7, 8, 9))
    written = replace(plain, **_named(plain, told))
    return replace(facts, **{"written": written} | _named(facts, told))


def _named(one: DataclassInstance, told: dict[str, Any]) -> dict[str, Any]:
    return {name: told[name] for name in told.keys() & {field.name for field in fields(one)}}
