"""A program that is drafted, as a therapist asks for it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from builder.__main__ import main
from builder.phonetics.index import Index
from tests.drafting.few import Few

ASKED = ["new", "wren-11", "--sound", "k", "--position", "initial", "--age", "4"]
BASELINE = "baseline: {date: 2026-12-03, correct: 18, of: 20}"


@pytest.fixture
def programs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A clinic's folder as the current folder, and an index of a few words."""
    (tmp_path / "mkdocs.yml").write_text("site_name: x\n")
    folder = tmp_path / "programs"
    folder.mkdir()
    (folder / "clinic.yaml").write_text(
        "clinic: 1\ncontact: {clinic: Test Clinic, phone: 555-0100}\n"
        "base_url: https://practice.example.org\n"
    )
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(Index, "open", lambda _folder: Few())
    return folder


def fill(file: Path) -> None:
    text = re.sub(r"(?m)^baseline: fill-in.*$", BASELINE, file.read_text())
    file.write_text(re.sub(r"(?m)^\w+: fill-in.*\n", "", text))


def test_a_draft_asks_for_its_blanks_and_then_passes(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*ASKED, "--error", "t"]) == 0
    assert main(["check", "programs/wren-11.yaml"]) == 1
    assert "`baseline` is still to be filled in" in capsys.readouterr().out
    fill(programs / "wren-11.yaml")
    assert main(["check", "programs/wren-11.yaml"]) == 0
    assert "0 faults" in capsys.readouterr().out


def test_own_words_and_lacking_sounds(programs: Path) -> None:
    words = "key, cow, cup, comb, coin, book"
    assert main([*ASKED, "--words", words, "--lacks", "v,/θ/", "--reads"]) == 0
    text = (programs / "wren-11.yaml").read_text()
    assert "lacks: [v, /θ/]\n" in text
    assert "words: [key, cow, cup, comb, coin]\n" in text
    assert "reads: yes\n" in text
    assert not any(word in text for word in ("have", "give"))
    fill(programs / "wren-11.yaml")
    assert main(["check", "programs/wren-11.yaml"]) == 0


def test_clusters_have_steps_of_their_own(programs: Path) -> None:
    assert main(["new", "wren-11", "--sound", "r", "--age", "7", "--cluster", "kr,gr"]) == 0
    text = (programs / "wren-11.yaml").read_text()
    assert "{name: kr words, level: word, cluster: kr," in text
    assert "{name: gr sentences, level: sentence, cluster: gr," in text


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (["--sound", "th"], "could be two sounds"),
        (["--sound", "ee"], "is a vowel"),
        (["--sound", "k", "--position", "front"], "is no position"),
        (["--sound", "k", "--cluster", "st"], "is no cluster with /k/"),
        (["--sound", "k", "--cluster", "th"], "could be two sounds"),
        (["--sound", "k", "--error", "j"], "could be two sounds"),
        (["--sound", "k", "--lacks", "r,x9"], "is not a sound this tool knows"),
        (["--sound", "k", "--words", "sun, moon"], "no word of your words holds /k/ initial"),
        (["--sound", "zh"], "no word that is known and picturable holds /ʒ/ initial"),
        (["--sound", "k", "--like", "finch-10"], "either --like"),
        ([], "either --like"),
    ],
)
def test_what_cannot_be_drafted_is_said_and_nothing_is_written(
    more: list[str], told: str, programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", "wren-11", *more]) == 2
    assert told in capsys.readouterr().err
    assert not (programs / "wren-11.yaml").exists()


def test_a_program_is_never_overwritten(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(ASKED) == 0
    before = (programs / "wren-11.yaml").read_bytes()
    assert main(ASKED) == 2
    assert "has a program already" in capsys.readouterr().err
    assert (programs / "wren-11.yaml").read_bytes() == before
