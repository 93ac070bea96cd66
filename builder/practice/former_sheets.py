"""When a client's former sheets were over, by the former versions of programs kept by `visit`."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import yaml

from builder.workspace import former
from builder.workspace.folder import Workspace

# Up to the next key; a program holds no other line that begins with a letter.
_PRACTICE = re.compile(r"^practice:.*?(?=^[^\s#]|\Z)", re.MULTILINE | re.DOTALL)
_LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)


@dataclass(frozen=True)
class FormerSheet:
    """A sheet that is over. visit: the one that was written for it, on the day after its last;
    next: the first day of the sheet after it, None where that is the one of now."""

    visit: datetime.date
    next: datetime.date | None = None


def former_sheets(workspace: Workspace, site: str) -> frozenset[FormerSheet]:
    """Those of all programs of a client, as far as they are known: a date that was changed by hand
    leaves nothing behind."""
    return frozenset(
        sheet
        for texts in former.befores(workspace, site).values()
        for sheet in _of_one(list(map(dates_in, texts)))
    )


Dates = tuple[datetime.date | None, datetime.date | None]
"""`from` and `visit`."""


def _of_one(versions: list[Dates]) -> Iterator[FormerSheet]:
    """versions: of one program, oldest first."""
    for (_, visit), (begin, _) in pairwise(versions):
        if visit and begin and visit < begin:
            yield FormerSheet(visit, begin)
    if versions and (last := versions[-1][1]):
        yield FormerSheet(last)


def dates_in(text: str) -> Dates:
    """The dates that a program writes, read without the rest of it; None for what is not there or
    cannot be read."""
    found = _PRACTICE.search(text)
    with suppress(yaml.YAMLError, KeyError, TypeError, AttributeError, RecursionError):
        practice = yaml.load(found[0], _LOADER)["practice"] if found else {}
        return _day(practice.get("from")), _day(practice.get("visit"))
    return None, None


def _day(text: Any) -> datetime.date | None:
    with suppress(ValueError, TypeError):
        return datetime.date.fromisoformat(text)
    return None
