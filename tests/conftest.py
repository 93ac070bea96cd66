"""Marks tests by the folder they are in and by what they need, so that `make quick` can leave out
what takes long; what all folders share, made once a run."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.support.stock import stocked

HERE = Path(__file__).parent
FOLDERS = ("audio", "outside", "browser")  # their markers have the same names
SLOW = {"index", "index_folder", "editor"}  # fixtures that take seconds to make


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Give each test of such a folder its marker, and `slow` to each with such a fixture."""
    for item in items:
        folder = item.path.relative_to(HERE).parts[0]
        if folder in FOLDERS:
            item.add_marker(folder)
        if SLOW.intersection(getattr(item, "fixturenames", ())):
            item.add_marker("slow")


@pytest.fixture(scope="session")
def run_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that the workers of one run share."""
    own = tmp_path_factory.getbasetemp()
    return own.parent if own.name.startswith("popen-") else own


@pytest.fixture(scope="session")
def stock(run_folder: Path) -> Path:
    """A store in which both faces are and all files of the usual program; to be copied."""
    return stocked(run_folder)
