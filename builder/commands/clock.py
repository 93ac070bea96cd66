"""What day it is, and which one is meant. Everything below the commands is told."""

from __future__ import annotations

import datetime
import os

from builder.problems import UsageError

EPOCH = "SOURCE_DATE_EPOCH"  # https://reproducible-builds.org/specs/source-date-epoch/


def day_typed(text: str) -> datetime.date:
    """A day as typed, in ISO form. Raises UsageError for what is none."""
    try:
        return datetime.date.fromisoformat(text.strip())
    except ValueError:
        raise UsageError(f"`{text}` is no day. Write it as in 2026-12-07.") from None


def today() -> datetime.date:
    """Today by this computer, or the day (UTC) of the moment that SOURCE_DATE_EPOCH names, so that
    the same command writes the same bytes again. Raises UsageError for one that names none."""
    told = os.environ.get(EPOCH)
    if not told:
        return datetime.date.today()
    try:
        return datetime.datetime.fromtimestamp(int(told), datetime.UTC).date()
    except (ValueError, OverflowError, OSError):
        raise UsageError(f"{EPOCH} is `{told}`, which is no number of seconds.") from None
