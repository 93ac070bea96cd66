from __future__ import annotations

import os
import stat
import tempfile
from pathlib import Path

import pytest

from builder.make import fonts, pictures, qr
from builder.model.plan import Code
from builder.workspace.store import Store, rewrite, write_new, write_whole
from tests.support.plans import drawing

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


KEY = "a" * 32


def damages(whole: bytes) -> dict[str, bytes]:
    return {"empty": b"", "cut": whole[: len(whole) // 2], "zeroed": bytes(len(whole))}


@pytest.mark.parametrize("how", damages(b""))
def test_a_damaged_file_counts_as_missing_and_is_made_again(how: str, tmp_path: Path) -> None:
    store = Store(tmp_path)
    file = store.put(KEY, ".mp3", b"0123456789")
    assert store.has(KEY, ".mp3")
    file.write_bytes(damages(b"0123456789")[how])
    assert not store.has(KEY, ".mp3")
    assert store.bytes_of(KEY, ".mp3", lambda: b"anew") == b"anew"
    assert store.bytes_of(KEY, ".mp3", lambda: b"never") == b"anew"


def test_a_file_without_its_digest_is_made_again(tmp_path: Path) -> None:
    """A run that was killed between the two cannot be told from a damaged file."""
    store = Store(tmp_path)
    store.put(KEY, ".mp3", b"0123456789")
    (digest,) = (file for file in tmp_path.rglob("*") if file.suffix == ".sha256")
    digest.unlink()
    assert not store.has(KEY, ".mp3")


def everything(store: Store) -> list[bytes]:
    """What a site takes from the store beside its clips: a picture, a code, a face."""
    code = Code("c" * 32, "codes/site", "https://a.example/0123456789abc/", "site")
    files = [pictures.make(drawing("1F404", "cow"), store), *qr.make(code, store)]
    return [*(file.read_bytes() for file in files), fonts.letters(["cow"], store)]


def test_no_damaged_picture_code_or_face_is_published(tmp_path: Path) -> None:
    store = Store(tmp_path)
    whole = everything(store)
    for file in [file for file in tmp_path.rglob("*.*") if file.suffix != ".sha256"]:
        file.write_bytes(bytes(file.stat().st_size))
    assert everything(store) == whole


@pytest.mark.skipif(os.name != "posix", reason="links and modes of POSIX")
def test_a_file_of_hers_stays_as_private_as_it_was_and_where_a_link_leads(tmp_path: Path) -> None:
    there, link = tmp_path / "there.yaml", tmp_path / "link.yaml"
    there.write_text("old")
    there.chmod(0o600)
    link.symlink_to(there)
    rewrite(link, b"new")
    assert link.is_symlink()
    assert (there.read_text(), stat.S_IMODE(there.stat().st_mode)) == ("new", 0o600)
