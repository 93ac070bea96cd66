"""What matplotlib keeps of this computer's fonts lies in the run's folder."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest


@pytest.fixture(autouse=True, scope="session")
def _cache_of_fonts(run_folder: Path) -> Iterator[None]:
    patch = pytest.MonkeyPatch()
    patch.setenv("MPLCONFIGDIR", str(run_folder / "matplotlib"))
    yield
    patch.undo()
