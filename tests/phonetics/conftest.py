"""The index of all words, made once for all test processes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from builder.phonetics.lexicon.index import FILE, Index, fingerprint
from tests.support.once import only_one


@pytest.fixture(scope="session")
def index(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Index]:
    """An index in a folder that the workers of one run share."""
    shared = tmp_path_factory.getbasetemp()
    if shared.name.startswith("popen-"):  # a worker's own folder
        shared = shared.parent
    with only_one(shared / f"{fingerprint()}.lock"):
        opened = Index.open(shared / "index")
    assert (shared / "index" / FILE).is_file()
    yield opened
    opened.close()


@pytest.fixture
def index_folder(index: Index, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Its folder."""
    return index.file.parent
