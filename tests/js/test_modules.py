"""The pages' modules have their own tests (tests/js); here they run as part of the whole."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from tests.support.node import node

HERE = Path(__file__).parent


def run(*command: str) -> None:
    done = subprocess.run([node(), *command], cwd=HERE, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.slow
def test_modules() -> None:
    run("--test", "--test-isolation=none")  # one process: thirty would start longer than they test


@pytest.mark.slow
def test_types() -> None:
    run("node_modules/typescript/bin/tsc", "--project", "tsconfig.json")
