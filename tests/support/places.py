"""Folders of the checkout, for tests that read files of it."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).parents[2]
TESTS = ROOT / "tests"
EXAMPLES = ROOT / "programs" / "examples"  # the invented clinic and its clients
