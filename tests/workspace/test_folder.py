from __future__ import annotations

from pathlib import Path

import pytest

from builder.problems import UsageError
from builder.workspace.folder import Workspace, find


def test_it_is_found_upwards_by_its_mkdocs_file(workspace: Workspace) -> None:
    inner = workspace.root / "programs" / "deep"
    inner.mkdir(parents=True)
    assert find(inner) == workspace


def test_outside_there_is_none(tmp_path: Path) -> None:
    with pytest.raises(UsageError, match="not inside a practice folder"):
        find(tmp_path)
