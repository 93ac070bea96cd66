from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from builder.recordings.page.save import EARLIER_FOLDER, save_take, set_aside


def names(folder: Path) -> list[str]:
    return sorted(file.name for file in folder.iterdir())


def test_further_recordings_stand_beside_the_first(tmp_path: Path) -> None:
    folder = tmp_path / "new" / "takes"
    files = [save_take(folder, "cow", ["cow"], data) for data in (b"1", b"2", b"3")]
    assert [file.name for file in files] == ["cow.wav", "cow-2.wav", "cow-3.wav"]
    assert [file.read_bytes() for file in files] == [b"1", b"2", b"3"]


def test_a_recording_of_another_kind_has_its_name_too(tmp_path: Path) -> None:
    (tmp_path / "Cow.m4a").write_bytes(b"phone")
    assert save_take(tmp_path, "cow", ["cow"], b"1").name == "cow-2.wav"


def test_a_number_that_is_another_item_s_name_is_left_out(tmp_path: Path) -> None:
    (tmp_path / "bus.wav").write_bytes(b"1")
    assert save_take(tmp_path, "bus", ["bus", "bus-2"], b"2").name == "bus-3.wav"
    assert save_take(tmp_path, "bus-2", ["bus", "bus-2"], b"2").name == "bus-2.wav"


def test_what_is_set_aside_is_not_lost(tmp_path: Path) -> None:
    for data in (b"1", b"2"):
        set_aside([save_take(tmp_path, "cow", ["cow"], data)])
    assert names(tmp_path) == [EARLIER_FOLDER]
    assert [f.read_bytes() for f in sorted((tmp_path / EARLIER_FOLDER).iterdir())] == [b"2", b"1"]
    assert names(tmp_path / EARLIER_FOLDER) == ["cow-2.wav", "cow.wav"]


def test_pages_that_keep_at_once_lose_nothing(tmp_path: Path) -> None:
    recordings = [bytes([n]) for n in range(48)]
    with ThreadPoolExecutor(8) as pages:
        files = list(pages.map(lambda data: save_take(tmp_path, "cow", ["cow"], data), recordings))
    assert len(set(files)) == len(recordings)
    assert [file.read_bytes() for file in files] == recordings


@pytest.mark.parametrize("links", [True, False])
def test_a_name_that_another_page_took_meanwhile_is_left(
    links: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also where the disk cannot link."""
    names_seen = iter(["cow", "cow", "cow-2"])  # what the folder looked like before the other wrote
    monkeypatch.setattr("builder.recordings.page.save.free_name", lambda *_: next(names_seen))
    if not links:
        monkeypatch.setattr(os, "link", unable)
    assert save_take(tmp_path, "cow", ["cow"], b"theirs").name == "cow.wav"
    assert save_take(tmp_path, "cow", ["cow"], b"ours").name == "cow-2.wav"
    assert (tmp_path / "cow.wav").read_bytes() == b"theirs"
    assert (tmp_path / "cow-2.wav").read_bytes() == b"ours"


@pytest.mark.parametrize("links", [True, False])
def test_what_another_page_has_set_aside_is_let_be(
    links: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    if not links:
        monkeypatch.setattr(os, "link", unable)
    file = save_take(tmp_path, "cow", ["cow"], b"1")
    set_aside([file])
    set_aside([file])
    assert names(tmp_path / EARLIER_FOLDER) == ["cow.wav"]
    assert (tmp_path / EARLIER_FOLDER / "cow.wav").read_bytes() == b"1"


def unable(*_: object) -> None:
    raise OSError(95, "Operation not supported")


def test_a_write_that_fails_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        save_take(tmp_path, "cow", ["cow"], b"1")
    assert names(tmp_path) == []
