"""What a test needs and this machine may lack."""

from __future__ import annotations

import os
from typing import NoReturn

import pytest


def missing(what: str) -> NoReturn:
    """Skip the test, with the reason; under CI=true it fails, for there everything is installed."""
    if os.environ.get("CI") == "true":
        pytest.fail(what)
    pytest.skip(what)
