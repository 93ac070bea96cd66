"""The day on which all tests are run: a Friday, before the first day of the programs in them."""

from __future__ import annotations

import datetime
import os

TODAY = datetime.date(2026, 12, 4)
NOON = datetime.datetime(2026, 12, 4, 12, tzinfo=datetime.UTC)


def set_today() -> None:
    """For this process and those that it starts."""
    os.environ["SOURCE_DATE_EPOCH"] = str(int(NOON.timestamp()))
