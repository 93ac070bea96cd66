from __future__ import annotations

import os
import tempfile
from pathlib import Path

import pytest

from builder.workspace.store import write_new, write_whole

FULL = Path("/dev/full")  # writing to it always finds the disk full


def test_who_writes_a_new_file_second_changes_nothing(tmp_path: Path) -> None:
    write_new(tmp_path / "a", b"first")
    with pytest.raises(FileExistsError):
        write_new(tmp_path / "a", b"second")
    assert [(file.name, file.read_bytes()) for file in tmp_path.iterdir()] == [("a", b"first")]


@pytest.mark.skipif(not FULL.exists(), reason="this system has no full device")
def test_a_full_disk_names_the_file_that_could_not_be_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    temporary = str(tmp_path / ".new-x")
    monkeypatch.setattr(tempfile, "mkstemp", lambda **_: (os.open(FULL, os.O_WRONLY), temporary))
    with pytest.raises(OSError, match="No space left") as stop:
        write_whole(tmp_path / "a", b"x")
    assert stop.value.filename == str(tmp_path / "a")
    assert list(tmp_path.iterdir()) == []
