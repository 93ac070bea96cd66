"""The index of all words, made once for all test processes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from builder.phonetics.lexicon.index import FILE, Index, fingerprint
from tests.support.once import only_one


@pytest.fixture(scope="session")
def index(run_folder: Path) -> Iterator[Index]:
    """An index in a folder that the workers of one run share."""
    with only_one(run_folder / f"{fingerprint()}.lock"):
        opened = Index.open(run_folder / "index")
    assert (run_folder / "index" / FILE).is_file()
    yield opened
    opened.close()


@pytest.fixture
def index_folder(index: Index) -> Path:
    """Its folder."""
    return index.file.parent
