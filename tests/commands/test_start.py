"""A clinic's folder, from nothing to a program that is checked."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from builder.__main__ import main
from builder.commands.start_command import MARK
from builder.program_file.load import clinic_of
from builder.text.templates import folder as templates
from builder.workspace.store import write_whole
from tests.support.places import ROOT

GIVEN = ["--clinic", 'Reed & Co: "speech"', "--phone", "5550100", "--paper", "a4"]


@pytest.fixture
def empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def terminal(monkeypatch: pytest.MonkeyPatch) -> Callable[..., list[str]]:
    """Somebody at a terminal who types these answers; what was asked."""

    def types(*answers: str) -> list[str]:
        asked, left = list[str](), iter(answers)

        def said(question: str) -> str:
            asked.append(question)
            answer = next(left, None)
            if answer is None:
                raise EOFError
            return answer

        monkeypatch.setattr("builtins.input", said)
        for stream in (sys.stdin, sys.stdout):
            monkeypatch.setattr(stream, "isatty", lambda: True, raising=False)
        return asked

    return types


def test_a_folder_is_ready_for_the_first_program(
    empty: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["start", "my clinic", *GIVEN, "--address", "https://practice.example.org"]) == 0
    assert 'cd "my clinic"' in capsys.readouterr().out
    folder = empty / "my clinic"
    clinic = clinic_of(folder / "programs")
    assert (clinic.contact.clinic, clinic.contact.phone) == (GIVEN[1], GIVEN[3])
    assert (clinic.paper, clinic.base_url) == ("a4", "https://practice.example.org")
    for name in ("takes", "pictures"):
        assert (folder / "programs" / name).is_dir()
    for name in ("program.schema.json", "clinic.schema.json"):
        assert (folder / "programs" / name).read_bytes() == (ROOT / "programs" / name).read_bytes()
    assert ".practice/" in (folder / ".gitignore").read_text().split()
    monkeypatch.chdir(folder)
    draft = ["new", "wren-01", "--sound", "k", "--age", "4", "--words", "key,cow,cup", "--error"]
    assert main([*draft, "t"]) == 0
    assert main(["check"]) == 1
    assert "`baseline` is still to be filled in" in capsys.readouterr().out


def test_it_asks_until_an_answer_fits(
    empty: Path, terminal: Callable[..., list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    asked = terminal("Reed Speech Clinic", "Pond Clinic", "555-0100", "example.org", "", "A3", "a4")
    assert main(["start"]) == 0
    assert [question.split()[0] for question in asked] == [
        "Your",
        "A",
        "A",
        "The",
        "The",
        "Paper",
        "Paper",
    ]
    said = capsys.readouterr().out
    assert "Please write it as in https://practice.example.org." in said
    assert "Please write letter or a4." in said
    clinic = clinic_of(empty / "programs")
    assert (clinic.contact.phone, clinic.base_url, clinic.paper) == ("555-0100", "", "a4")
    assert "    cd " not in said


def test_what_nobody_answered_is_asked_for_by_the_check(
    empty: Path, terminal: Callable[..., list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    terminal()
    assert main(["start"]) == 0
    assert "replace each `fill-in`" in capsys.readouterr().out
    assert main(["new", "wren-01", "--sound", "k", "--words", "key,cow"]) == 0
    assert main(["check"]) == 1
    said = capsys.readouterr().out
    assert "`clinic` is still to be filled in" in said
    assert "`phone` is still to be filled in" in said


def test_where_nobody_can_be_asked_it_says_what_was_taken(
    empty: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["start", "--phone", "555-0100"]) == 0
    said = capsys.readouterr().out
    assert (
        "Nobody could be asked, so this was taken: the clinic's name `fill-in`, no web address "
        "(`base_url`), letter paper.\nAll of it stands in programs/clinic.yaml: change it there.\n"
    ) in said
    clinic = (empty / "programs" / "clinic.yaml").read_text()
    assert "  clinic: fill-in\n" in clinic
    assert "\n# base_url:" in clinic
    assert "\npaper: letter\n" in clinic
    (empty / MARK).unlink()
    assert main(["start"]) == 0
    assert "Nobody" not in capsys.readouterr().out, "the clinic file was there"


def test_what_is_there_is_left_as_it_is(
    empty: Path, terminal: Callable[..., list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    asked = terminal()
    assert main(["start", *GIVEN]) == 0
    clinic = empty / "programs" / "clinic.yaml"
    clinic.write_text("clinic: 1\ncontact: {clinic: Mine}\n")
    (empty / MARK).unlink()
    del asked[:]
    assert main(["start"]) == 0
    assert (empty / MARK).is_file()
    assert clinic.read_text().endswith("{clinic: Mine}\n")
    assert asked == []
    assert main(["start"]) == 2
    assert "this is a practice folder already" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("argv", "said"),
    [
        (["."], "holds other things (a.txt, b.txt, c.txt and 1 more). Name a new folder"),
        (["a.txt"], "a.txt: this is a file"),
        (["inside/of/it"], "this lies in the practice folder"),
        (["new", "--paper", "A3"], "`A3`: write letter or a4."),
        (["new", "--address", "example.org"], "`example.org`: write it as in https://"),
        (["new", "--clinic", "x" * 81], "at most 80 letters"),
        (["new", "--phone", "Pond Clinic"], "`Pond Clinic`: write it in digits"),
    ],
)
def test_where_and_what_cannot_be(
    empty: Path, capsys: pytest.CaptureFixture[str], argv: list[str], said: str
) -> None:
    for name in "abc":
        (empty / f"{name}.txt").write_text("mine")
    (empty / "inside").mkdir()
    (empty / "inside" / MARK).write_text("site_name: x\n")
    before = sorted(empty.rglob("*"))
    assert main(["start", *argv]) == 2
    assert said in capsys.readouterr().err
    assert sorted(empty.rglob("*")) == before


def test_what_was_stopped_half_way_is_no_practice_folder_and_is_completed(
    empty: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def full(file: Path, data: bytes) -> None:
        if file.name == ".gitignore":
            raise OSError(28, "No space left on device", str(file))
        write_whole(file, data)

    monkeypatch.setattr("builder.commands.start_command.write_whole", full)
    assert main(["start", "clinic", *GIVEN]) == 2
    assert not (empty / "clinic" / MARK).exists()
    monkeypatch.undo()
    monkeypatch.chdir(empty)
    assert main(["start", "clinic"]) == 0
    assert clinic_of(empty / "clinic" / "programs").contact.phone == GIVEN[3]


def test_the_settings_are_those_of_this_folder() -> None:
    assert (templates() / "practice_folder" / MARK).read_bytes() == (ROOT / MARK).read_bytes()
