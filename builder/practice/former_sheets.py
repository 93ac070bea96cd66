"""When a client's former sheets were over, and since when its steps are practiced, by the former
versions of programs kept by `visit`."""

from __future__ import annotations

import datetime
import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import yaml

from builder.workspace import former
from builder.workspace.folder import Workspace

# Up to the next key; a program holds no other line that begins with a letter.
_PRACTICE = re.compile(r"^practice:.*?(?=^[^\s#]|\Z)", re.MULTILINE | re.DOTALL)
_CURRENT = re.compile(r"^current:.*?(?=^[^\s#-]|\Z)", re.MULTILINE | re.DOTALL)
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
    return sheets_in(former.befores(workspace, site))


def sheets_in(versions: Mapping[str, Sequence[str]]) -> frozenset[FormerSheet]:
    """The same, of the texts of each program's former versions, oldest first."""
    return frozenset(
        sheet for texts in versions.values() for sheet in _of_one(list(map(dates_in, texts)))
    )


def practiced_since(versions: Sequence[str], now: Collection[str]) -> datetime.date | None:
    """The first day of the oldest sheet since which a program's current steps have been those of
    `now`; None where no former version has them.

    versions: the program's former texts, oldest first.
    """
    since = None
    for text in reversed(versions):
        if _current_in(text) != set(now):
            break
        since = dates_in(text)[0] or since
    return since


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


def _current_in(text: str) -> set[str]:
    """The names of the steps that a program says are practiced; none where that cannot be read."""
    found = _CURRENT.search(text)
    with suppress(yaml.YAMLError, KeyError, TypeError, RecursionError):
        names = yaml.load(found[0], _LOADER)["current"] if found else ()
        return {names} if isinstance(names, str) else set(names)
    return set()


def _day(text: Any) -> datetime.date | None:
    with suppress(ValueError, TypeError):
        return datetime.date.fromisoformat(text)
    return None
