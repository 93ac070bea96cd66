"""What a therapist types to see how a client is doing."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from builder.__main__ import main
from builder.workspace.published import FOLDER_MARK
from tests.support.clinics import clinic
from tests.support.invented import HERON


@pytest.fixture
def space(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, run_folder: Path) -> Path:
    """A practice folder with a client who has weeks of records and one who has none."""
    clinic(tmp_path)
    HERON.write(tmp_path)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1797249600")  # December 14, 2026
    monkeypatch.setenv("MPLCONFIGDIR", str(run_folder / "matplotlib"))
    return tmp_path


def test_all_of_it_in_the_terminal(space: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["progress", "heron-07"]) == 0
    said = capsys.readouterr().out.splitlines()
    assert said[0] == "heron-07, 2026-11-09 to 2026-12-14"
    assert said[3].startswith("  /k/ initial in words, ")
    assert said[3].endswith(" on 2026-12-14; moved to phrases.")
    assert "  week of 2026-11-09: 4 of 4 days, 8 sittings, 192 tries" in said
    assert "    2026-12-14: moved to 'two words' from 'words' (session of that day)" in said
    assert not (space / "progress").exists()


def test_naming_pictures_is_said_only_where_every_word_has_one(
    space: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["progress", "heron-07"])
    assert "picture naming" not in capsys.readouterr().out  # comb has no drawing
    own = space / "programs" / "heron-07"
    own.mkdir()
    (own / "comb.png").write_bytes(b"")
    main(["progress", "heron-07"])
    assert "/k/ initial in words, picture naming without a model: 17" in capsys.readouterr().out


def test_since_leaves_out_what_is_older(space: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["progress", "heron-07", "--since", "2026-11-30"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("heron-07, 2026-11-30 to 2026-12-14\n")
    assert "2026-11-24" not in said
    for day, why in (
        ("2026-12-15", "2026-12-15 is still to come."),
        ("monday", "`monday` is no day. Write it as in 2026-12-07."),
    ):
        assert main(["progress", "heron-07", "--since", day]) == 2
        assert why in capsys.readouterr().err


def test_where_the_log_holds_nothing_it_says_what_to_do(
    space: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["progress", "finch-10", "--page"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "finch-10: the log holds nothing of this client yet. `practice-site receive`" in said.err
    assert not (space / "progress").exists()


def test_page_and_pdf_are_private_and_go_with_a_client_who_is_forgotten(
    space: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert main(["progress", "heron-07", "--page", "--pdf", "--quiet"]) == 0
    files = list(map(Path, capsys.readouterr().out.split()))
    assert [file.name for file in files] == ["heron-07.html", "heron-07.pdf"]
    assert files[1].read_bytes().startswith(b"%PDF-")
    if os.name == "posix":
        assert {stat.S_IMODE(file.stat().st_mode) for file in files} == {0o600}
        assert stat.S_IMODE((space / "progress").stat().st_mode) == 0o700
    assert main(["caseload", "--page", "--quiet"]) == 0
    caseload = Path(capsys.readouterr().out.strip()).read_text("utf-8")
    assert f'<a href="{files[0].resolve().as_uri()}" aria-label="progress of heron-07">' in caseload
    assert caseload.count(">progress</a>") == 1
    monkeypatch.setattr("builtins.input", lambda _asked: "heron-07")
    assert main(["log", "forget", "heron-07"]) == 0
    assert not any(file.exists() for file in files)


def test_nothing_is_written_where_sites_are_published(
    space: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (space / "public").mkdir()
    (space / "public" / FOLDER_MARK).touch()
    for place in ("public", os.path.join("public", "new")):
        assert main(["progress", "heron-07", "--page", "--to", place]) == 2
        assert "this folder is published" in capsys.readouterr().err
    assert [file.name for file in (space / "public").iterdir()] == [FOLDER_MARK]
