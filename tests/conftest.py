"""Marks tests by the folder they are in and by what they need, so that `make quick` can leave out
what takes long; what all folders share, made once a run."""

from __future__ import annotations

import gc
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.support.day import set_today
from tests.support.stock import stocked

set_today()
gc.disable()  # until all tests are there: what is made meanwhile stays

HERE = Path(__file__).parent
FOLDERS = ("audio", "outside", "browser")  # their markers have the same names
SLOW = {"index", "index_folder", "editor"}  # fixtures that take seconds to make


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Give each test its folder's marker; `slow` to each with such a fixture or any input.

    A browser's tests come first: while one process waits for its pages, others have work.
    """
    folders = {path: path.relative_to(HERE).parts[0] for path in {item.path for item in items}}
    items.sort(key=lambda item: folders[item.path] != "browser")
    for item in items:
        folder = folders[item.path]
        if folder in FOLDERS:
            item.add_marker(folder)
        searches = getattr(getattr(item, "obj", None), "is_hypothesis_test", False)
        if searches or SLOW.intersection(getattr(item, "fixturenames", ())):
            item.add_marker("slow")


def pytest_collection_finish() -> None:
    """The search for what is left over goes through no test again, and is made less often: it took
    one part in twenty-five of all processor time."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 10, 10)
    gc.enable()


def pytest_xdist_auto_num_workers() -> int:
    """One more than there are cores: a browser's test mostly waits."""
    return (os.cpu_count() or 1) + 1


@pytest.fixture(scope="session")
def run_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that the workers of one run share."""
    own = tmp_path_factory.getbasetemp()
    return own.parent if own.name.startswith("popen-") else own


@pytest.fixture(scope="session", autouse=True)
def _what_is_left_over_goes_with_the_run(run_folder: Path) -> Iterator[None]:
    """A lock of each practice folder stays among the temporary files, and tests make hundreds."""
    folder, before = run_folder / "temporary", tempfile.tempdir
    folder.mkdir(exist_ok=True)
    tempfile.tempdir = str(folder)
    yield
    tempfile.tempdir = before


@pytest.fixture(scope="session")
def stock(run_folder: Path) -> Path:
    """A store in which both faces are and all files of the usual program; to be copied."""
    return stocked(run_folder)
