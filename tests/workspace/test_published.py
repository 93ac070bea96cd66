from __future__ import annotations

from pathlib import Path

import pytest

from builder.problems import UsageError
from builder.workspace import published

KEY, OTHER = b"k" * 32, b"o" * 32


def test_the_mark_tells_one_secret_from_another_and_holds_none(tmp_path: Path) -> None:
    out = tmp_path / "public"
    assert published.fingerprint_in(out) == ""
    published.mark(out, KEY)
    assert published.fingerprint_in(out) == published.fingerprint_of(KEY)
    assert published.fingerprint_of(KEY) != published.fingerprint_of(OTHER)
    assert KEY.hex() not in (out / published.FOLDER_MARK).read_text()


def test_a_mark_is_written_once(tmp_path: Path) -> None:
    published.mark(tmp_path, KEY)
    before = (tmp_path / published.FOLDER_MARK).stat().st_mtime_ns
    published.mark(tmp_path, KEY)
    assert (tmp_path / published.FOLDER_MARK).stat().st_mtime_ns == before


@pytest.mark.parametrize("text", ["", "{}", "[]", '{"secret": 1}', '{"secret": ""}', "\xff"])
def test_a_damaged_mark_is_told(tmp_path: Path, text: str) -> None:
    (tmp_path / published.FOLDER_MARK).write_bytes(text.encode("latin-1"))
    with pytest.raises(UsageError, match="damaged"):
        published.fingerprint_in(tmp_path)
