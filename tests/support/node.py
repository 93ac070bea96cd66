"""Node, which runs the pages' modules for tests."""

from __future__ import annotations

import shutil

from tests.support.missing import missing
from tests.support.places import TESTS

PACKAGES = TESTS / "js" / "node_modules"


def node() -> str:
    """Node, with the packages of tests/js; without them skipped, but under CI a failure."""
    found = shutil.which("node")
    if not found or not (PACKAGES / "typescript").is_dir():
        missing("node or its packages are not installed (npm ci in tests/js)")
    return found
