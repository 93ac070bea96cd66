"""Backup, restore and forgetting, as a therapist types them."""

from __future__ import annotations

import io
import sys
import zipfile
from pathlib import Path

import pytest

from builder.__main__ import main
from builder.practice import kept_views
from builder.workspace import desk
from builder.workspace.folder import Workspace
from tests.commands.test_receive import saved, site
from tests.support.from_home import VIEW, as_written

__all__ = ["site"]  # a fixture


def test_a_backup_is_restored_and_the_log_is_there(
    site: str,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    stick = tmp_path_factory.mktemp("stick")
    assert main(["receive", saved("m.txt", as_written(1, site=site))]) == 0
    assert main(["backup", str(stick)]) == 0
    assert main(["backup", str(stick)]) == 0
    said = capsys.readouterr().out
    assert "every file was as it is here" in said
    names = sorted(file.name for file in stick.iterdir())
    assert names == ["practice backup 2026-12-04-2.zip", "practice backup 2026-12-04.zip"]
    with zipfile.ZipFile(stick / names[1]) as archive:
        assert f"{len(archive.namelist()) - 1} files" in said
    assert main(["restore", str(stick / names[1]), str(stick / "again")]) == 0
    assert "`practice-site build`" in capsys.readouterr().out
    monkeypatch.chdir(stick / "again")
    assert main(["log", "export"]) == 0
    assert site not in capsys.readouterr().err
    assert main(["receive", str(Path(site).absolute())]) == 2


def test_where_no_backup_may_lie(site: str, capsys: pytest.CaptureFixture[str]) -> None:
    Path("public").mkdir()
    Path("public/practice-site.json").write_text("{}")
    for folder in ("programs", ".practice", "public", "nowhere"):
        assert main(["backup", folder]) == 2
    said = capsys.readouterr().err.splitlines()
    assert ["backed up itself" in line for line in said] == [True, True, False, False]
    assert "published" in said[2]
    assert main(["restore", "nothing.zip", "new"]) == 2
    Path("no.zip").write_text("no backup")
    assert main(["restore", "no.zip", "new"]) == 2
    assert "this lies in the practice folder" in capsys.readouterr().err


def test_recordings_elsewhere_are_in_it_or_named(
    site: str, capsys: pytest.CaptureFixture[str], tmp_path_factory: pytest.TempPathFactory
) -> None:
    stick, away = tmp_path_factory.mktemp("stick"), tmp_path_factory.mktemp("away")
    file = Path("programs/clinic.yaml")
    text = file.read_text()
    Path("voices").mkdir()
    Path("voices/cow.wav").write_bytes(b"moo")
    file.write_text(f"{text}takes: ../voices\n")
    assert main(["backup", str(stick)]) == 0
    with zipfile.ZipFile(stick / "practice backup 2026-12-04.zip") as archive:
        assert archive.read("voices/cow.wav") == b"moo"
    assert capsys.readouterr().err == ""
    file.write_text(f"{text}takes: {away}\n")
    assert main(["backup", str(stick)]) == 0
    assert f"not in it: {away}, outside the practice folder" in capsys.readouterr().err


def test_a_client_is_forgotten_once_the_code_is_typed_again(
    site: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert main(["receive", saved("m.txt", as_written(1, site=site))]) == 0
    Path("public", site).mkdir(parents=True)
    Path("desk").mkdir()
    for name in ("finch-10 2026-12-07.pdf", "finch-101.pdf", desk.BOUND):
        Path("desk", name).touch()
    space = Workspace(Path.cwd())
    sheets = {
        code: desk.Sheet(f"{code} 2026-12-07.pdf", "", "2026-12-04", 0, waiting=False)
        for code in ("finch-10", "finch-101")
    }
    desk.keep(space, Path("desk"), sheets)
    (space.hidden / "caseload.json").write_text('{"finch-10": 1}')
    for typed in ("", "yes\n", "finch-1\n"):
        monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
        assert main(["log", "forget", "finch-10"]) == 2
    assert capsys.readouterr().err.count("finch-10: nothing was removed.") == 3
    monkeypatch.setattr(sys, "stdin", io.StringIO("finch-10\n"))
    assert main(["log", "forget", "finch-10"]) == 0
    said = capsys.readouterr().out
    gone = (
        "1 sitting, 0 boxes of paper, 0 scores of visits, 0 notes of visits, "
        "0 sittings kept apart, 1 kept plan; 0 stored sheets, lists and codes"
    )
    assert f"removed: {gone}\n" in said
    remains, _, unseen = said.partition("What remains elsewhere:")[2].partition("cannot be seen")
    assert desk.written(space, Path("desk")) == {"finch-101": sheets["finch-101"]}
    assert not (space.hidden / "caseload.json").exists()
    for left in ("program", "published site", "finch-10 2026-12-07.pdf", desk.BOUND):
        assert left in remains
    for left in ("tablet", "printed", "backups"):
        assert left in unseen
        assert left not in remains.replace("its tablet sends", "")
    assert "finch-101" not in said
    assert main(["log", "export"]) == 0
    assert len(capsys.readouterr().out.splitlines()) == 1
    assert main(["receive", "m.txt"]) == 1
    said = capsys.readouterr().err
    assert "1 sitting of finch-10: no plan of this client is kept here" in said
    assert "`practice-site build finch-10` keeps the plan of now" in said
    kept_views.keep(Workspace(Path.cwd()), site, VIEW)  # as a build does
    assert main(["receive", "m.txt"]) == 0
    assert capsys.readouterr().out.startswith("finch-10: 1 new sitting")


def test_only_one_who_is_known_is_forgotten(site: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["log", "forget", "owl-99"]) == 2
    assert main(["log", "forget"]) == 2
    assert main(["log", "forget", "finch-10", "owl-99"]) == 2
    assert "owl-99: no client has this code" in capsys.readouterr().err
