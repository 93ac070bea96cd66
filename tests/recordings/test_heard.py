"""The list of doubtful recordings that somebody heard."""

from __future__ import annotations

from pathlib import Path

from builder.recordings.heard import HEARD_LIST, add_heard, heard
from builder.workspace.store import digest_of


def test_a_file_that_is_recorded_again_must_be_heard_again(tmp_path: Path) -> None:
    cow = tmp_path / "cow.wav"
    cow.write_bytes(b"first")
    add_heard(tmp_path, [cow])
    assert digest_of(cow) in heard(tmp_path)
    cow.write_bytes(b"second")
    assert digest_of(cow) not in heard(tmp_path)


def test_the_list_names_each_file_once_and_a_line_that_is_gone_takes_it_back(
    tmp_path: Path,
) -> None:
    for name in ("cow.wav", "key.wav"):
        (tmp_path / name).write_bytes(name.encode())
        add_heard(tmp_path, [tmp_path / name])
        add_heard(tmp_path, [tmp_path / name])
    text = (tmp_path / HEARD_LIST).read_text()
    assert text.count(".wav") == 2
    (tmp_path / HEARD_LIST).write_text(text.replace(text.splitlines()[-1], ""))
    assert heard(tmp_path) == {digest_of(tmp_path / "cow.wav")}


def test_without_a_list_nothing_was_heard(tmp_path: Path) -> None:
    assert heard(tmp_path / "takes") == frozenset()
