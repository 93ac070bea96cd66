"""A backup holds all that cannot be made again; of one that was changed nothing comes back."""

from __future__ import annotations

import datetime
import json
import shutil
import sqlite3
import stat
import zipfile
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from builder.practice import kept_views
from builder.practice.log.backup import LIST, back_up, restore
from builder.practice.log.file import FILE
from builder.practice.log.receive import receive
from builder.practice.log.rows import opened
from builder.problems import UsageError
from builder.workspace.addresses import secret
from builder.workspace.folder import Workspace
from tests.benchmarks.log_kills import KNOWN
from tests.support.clinics import clinic
from tests.support.from_home import SITE, VIEW, sitting


@pytest.fixture
def space(tmp_path: Path) -> Workspace:
    """A practice folder with something of every kind in it."""
    root = tmp_path / "clinic"
    root.mkdir()
    programs = clinic(root)
    for name in ("pictures/cow.png", "finch-10/takes/key.wav", "takes/heard.txt"):
        (programs / name).parent.mkdir(parents=True, exist_ok=True)
        (programs / name).write_bytes(name.encode() * 99)
    (root / "takes").mkdir()
    (root / "takes" / "cow.wav").write_bytes(bytes(3_000_000))
    (root / ".gitignore").write_text(".practice/\n")
    space = Workspace(root)
    secret(space)
    kept_views.keep(space, SITE, VIEW, datetime.date(2026, 12, 7))
    (space.hidden / "desk.json").write_text("{}")
    for name in ("store/ab/ab.mp3", "stamps.json", "index/words.sqlite"):
        (space.hidden / name).parent.mkdir(parents=True, exist_ok=True)
        (space.hidden / name).write_bytes(b"made again")
    (root / "public").mkdir()
    (root / "public" / "index.html").write_text("made again")
    with opened(space.hidden) as log:
        receive(log, [sitting(1)], KNOWN)
    return space


def contents(folder: Path) -> dict[str, bytes]:
    """What must come back: all but the log, whose file may be laid out otherwise."""
    return {
        file.relative_to(folder).as_posix(): file.read_bytes()
        for file in folder.rglob("*")
        if file.is_file() and not file.name.startswith("log")
    }


def made(space: Workspace, tmp_path: Path) -> Path:
    file = tmp_path / "backup.zip"
    back_up(space, file, [space.root / "takes"], lambda _: False)
    return file


@pytest.mark.parametrize("shared", [False, True], ids=["local", "share"])
def test_what_was_backed_up_comes_back_into_an_empty_folder(
    space: Workspace, tmp_path: Path, shared: bool
) -> None:
    file, folder = tmp_path / "backup.zip", tmp_path / "new"
    with opened(space.hidden, lambda _: shared) as log:  # on a share it would wait for us
        if not shared:
            receive(log, [sitting(2)], KNOWN)  # still in the write-ahead log
            kept = back_up(space, file, [space.root / "takes"], lambda _: False)
    if shared:
        kept = back_up(space, file, [space.root / "takes"], lambda _: True)
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert {f.name for f in tmp_path.iterdir()} == {"clinic", "backup.zip"}
    assert restore(file, folder) == kept

    there, here = contents(folder), contents(space.root)
    again = {name for name, data in here.items() if data == b"made again"}
    assert again | {"public/index.html"} == {*here} - {*there}
    assert there == {name: here[name] for name in there}
    assert kept.files == len(there) + 1
    with opened(folder / ".practice") as log, opened(space.hidden) as before:
        assert log.sittings() == before.sittings()
        assert len(log.sittings()) == (1 if shared else 2)
    assert secret(Workspace(folder)) == secret(space)


def test_what_is_private_comes_back_private_and_as_old_as_it_was(
    space: Workspace, tmp_path: Path
) -> None:
    folder = tmp_path / "new"
    restore(made(space, tmp_path), folder)
    hidden = folder / ".practice"
    assert stat.S_IMODE(hidden.stat().st_mode) == 0o700
    modes = {stat.S_IMODE(file.stat().st_mode) for file in hidden.rglob("*") if file.is_file()}
    assert modes == {0o600}
    view = Path(kept_views.FOLDER) / SITE / f"{VIEW.digest}.json"
    before, after = (file.stat().st_mtime for file in (space.hidden / view, hidden / view))
    assert abs(before - after) <= 2  # ZIP counts in steps of two seconds


def test_nothing_is_overwritten(space: Workspace, tmp_path: Path) -> None:
    file = made(space, tmp_path)
    before = file.read_bytes()
    with pytest.raises(FileExistsError):
        made(space, tmp_path)
    assert file.read_bytes() == before
    with pytest.raises(UsageError, match="not an empty folder"):
        restore(file, space.root)
    (tmp_path / "empty").mkdir()
    restore(file, tmp_path / "empty")


def changed(file: Path, edit: Callable[[dict[str, bytes]], object]) -> None:
    """The backup with other contents, rightly packed."""
    with zipfile.ZipFile(file) as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
    edit(files)
    with zipfile.ZipFile(file, "w") as archive:
        for name, data in files.items():
            archive.writestr(name, data)


def listed(files: dict[str, bytes], name: str, **entry: object) -> None:
    told = json.loads(files[LIST])
    told["files"][name] = told["files"].get(name, {"sha256": "", "bytes": 1}) | entry
    files[LIST] = json.dumps(told).encode()
    files.setdefault(name, b"x")


EDITS: dict[str, tuple[Callable[[dict[str, bytes]], object], str]] = {
    "a file changed": (lambda f: f.update({"mkdocs.yml": b"x"}), "`mkdocs.yml` was changed"),
    "a file gone": (lambda f: f.pop("mkdocs.yml"), "other files than its list"),
    "a file more": (lambda f: f.update({"more": b"x"}), "other files than its list"),
    "no list": (lambda f: f.pop(LIST), "its list is missing"),
    "no JSON": (lambda f: f.update({LIST: b"["}), "its list is missing"),
    "a later form": (lambda f: f.update({LIST: b'{"backup":2,"files":{}}'}), "has the form 2"),
    "out of the folder": (lambda f: listed(f, "../x"), "no name"),
    "from the root": (lambda f: listed(f, "/x"), "no name"),
    "another disk": (lambda f: listed(f, "C:x"), "no name"),
    "less than nothing": (lambda f: listed(f, "mkdocs.yml", bytes=-9), "no name"),
    "longer than listed": (lambda f: listed(f, "mkdocs.yml", bytes=3), "was changed"),
    "without end": (lambda f: listed(f, "mkdocs.yml", bytes=float("inf")), "its list is missing"),
    "a file in a file": (lambda f: listed(f, "mkdocs.yml/x"), "two files at `mkdocs.yml`"),
}


@pytest.mark.parametrize("edit", EDITS)
def test_one_that_is_not_as_it_was_is_refused_whole(
    space: Workspace, tmp_path: Path, edit: str
) -> None:
    file = made(space, tmp_path)
    change, message = EDITS[edit]
    changed(file, change)
    with pytest.raises(UsageError, match=message):
        restore(file, tmp_path / "new")
    assert {f.name for f in tmp_path.iterdir()} == {"clinic", "backup.zip"}


@pytest.mark.parametrize("spoil", ["cut", "scratched", "text"])
def test_a_damaged_file_is_said_to_be(space: Workspace, tmp_path: Path, spoil: str) -> None:
    file = made(space, tmp_path)
    data = file.read_bytes()
    middle = len(data) // 2
    scratch = (
        data[:middle] + bytes(b ^ 255 for b in data[middle : middle + 40]) + data[middle + 40 :]
    )
    file.write_bytes({"cut": data[:-200], "scratched": scratch, "text": b"no backup"}[spoil])
    with pytest.raises(UsageError, match="no whole backup"):
        restore(file, tmp_path / "new")
    assert not (tmp_path / "new").exists()


def test_a_folder_without_a_log_and_with_links_in_a_circle(tmp_path: Path) -> None:
    root = tmp_path / "clinic"
    root.mkdir()
    programs = clinic(root)
    (programs / "round").symlink_to(programs)
    shutil.rmtree(root / ".practice", ignore_errors=True)
    kept = back_up(Workspace(root), tmp_path / "backup.zip", (), lambda _: False)
    restore(tmp_path / "backup.zip", tmp_path / "new")
    assert kept.files == 3
    assert not (tmp_path / "new" / ".practice").exists()


def test_another_way_of_packing_and_a_name_that_is_no_text_are_refused(
    space: Workspace, tmp_path: Path
) -> None:
    file = made(space, tmp_path)
    data = file.read_bytes()
    odd = data.replace(b"mkdocs.yml", b"mkdocs\xff.yml"[:10])
    at = data.rindex(b"PK\x01\x02")  # the entry of the list, by APPNOTE.TXT 4.3.12
    utf8 = data[: at + 9] + b"\x08" + data[at + 10 : at + 46] + b"\xff" + data[at + 47 :]
    packed = data[: at + 10] + b"\x0e" + data[at + 11 :]
    for other in (odd, utf8, packed):
        file.write_bytes(other)
        with pytest.raises(UsageError, match="no whole backup"):
            restore(file, tmp_path / "new")


def test_a_log_that_is_damaged_is_named_before_it_is_backed_up(
    space: Workspace, tmp_path: Path
) -> None:
    log = space.hidden / FILE
    with closing(sqlite3.connect(log)) as sql:
        sql.execute("PRAGMA journal_mode = DELETE")
        (page,) = sql.execute(
            "SELECT rootpage FROM sqlite_master WHERE name = 'sitting_of_client'"
        ).fetchone()
    data = bytearray(log.read_bytes())
    data[(page - 1) * 4096 : (page - 1) * 4096 + 8] = bytes(8)
    log.write_bytes(data)
    with pytest.raises(UsageError, match=r"log\.sqlite: the log is damaged.*your backup"):
        made(space, tmp_path)
    assert not (tmp_path / "backup.zip").exists()
