"""Each published view is kept by client, and read back as it was."""

from __future__ import annotations

from pathlib import Path

from builder.practice import kept_views
from builder.workspace.folder import Workspace
from tests.support.from_home import OTHER_SITE, SITE, VIEW


def test_a_kept_view_is_read_back_whole(tmp_path: Path) -> None:
    space = Workspace(tmp_path)
    kept_views.keep(space, SITE, VIEW)
    found = kept_views.find(space, SITE, VIEW.digest)
    assert found == VIEW
    assert found.digest == VIEW.digest
    assert kept_views.find(space, OTHER_SITE, VIEW.digest) is None
    assert kept_views.find(space, SITE, "ab" * 16) is None


def test_one_from_before_they_were_kept_by_client_is_found(tmp_path: Path) -> None:
    folder = Workspace(tmp_path).hidden / kept_views.FOLDER
    folder.mkdir()
    (folder / f"{VIEW.digest}.json").write_text(VIEW.as_json(), "utf-8")
    assert kept_views.find(Workspace(tmp_path), SITE, VIEW.digest) == VIEW


def test_a_damaged_one_is_none(tmp_path: Path) -> None:
    space = Workspace(tmp_path)
    kept_views.keep(space, SITE, VIEW)
    file = space.hidden / kept_views.FOLDER / SITE / f"{VIEW.digest}.json"
    file.write_bytes(file.read_bytes()[:300])
    assert kept_views.find(space, SITE, VIEW.digest) is None
