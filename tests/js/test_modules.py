"""The pages' modules have their own tests (tests/js); here they run as part of the whole."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from tests.support.missing import missing

HERE = Path(__file__).parent


def node() -> str:
    """Node, with the packages of tests/js; without them skipped, but under CI a failure."""
    found = shutil.which("node")
    if not found or not (HERE / "node_modules" / "typescript").is_dir():
        missing("node or its packages are not installed (npm ci in tests/js)")
    return found


def run(*command: str) -> None:
    done = subprocess.run([node(), *command], cwd=HERE, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.slow
def test_modules() -> None:
    run("--test", "--test-isolation=none")  # one process: thirty would start longer than they test


@pytest.mark.slow
def test_types() -> None:
    run("node_modules/typescript/bin/tsc", "--project", "tsconfig.json")
