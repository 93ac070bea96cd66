from __future__ import annotations

from pathlib import Path

import pytest

from builder.workspace.folder import Workspace


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    (tmp_path / "mkdocs.yml").write_text("site_name: x\n")
    return Workspace(tmp_path)
