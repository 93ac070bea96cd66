from __future__ import annotations

from pathlib import Path

import pytest

from builder.site.root import write_root
from builder.workspace import published

NAMES = {".nojekyll", "404.html", "index.html", "robots.txt"}


def test_every_file_at_the_root_says_who_writes_it(tmp_path: Path) -> None:
    write_root(tmp_path)
    assert {file.name for file in tmp_path.iterdir()} == NAMES
    assert all(map(published.written_by_us, tmp_path.iterdir()))
    published.require_own(tmp_path)


@pytest.mark.parametrize("name", sorted(NAMES))
def test_what_is_old_is_replaced_and_what_is_the_clinics_stays(tmp_path: Path, name: str) -> None:
    write_root(tmp_path)
    published.mark(tmp_path, b"k" * 32)
    file = tmp_path / name
    now = file.read_bytes()
    file.write_bytes(b"practice-site writes this file, an earlier form")
    write_root(tmp_path)
    assert file.read_bytes() == now
    file.write_bytes(b"the clinic's own")
    write_root(tmp_path)
    assert file.read_bytes() == b"the clinic's own"


def test_in_a_folder_without_a_mark_the_root_is_ours(tmp_path: Path) -> None:
    (tmp_path / "index.html").write_text("of an earlier version")
    write_root(tmp_path)
    assert published.written_by_us(tmp_path / "index.html")
