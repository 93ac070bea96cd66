"""Steps past sentences, as a therapist asks for them with `new` and `extend`."""

from __future__ import annotations

from pathlib import Path

import pytest

from builder.__main__ import main
from builder.program_file.load import program_of
from tests.commands.test_extend import PROGRAM, extend, file
from tests.commands.test_new import ASKED, fill, programs

__all__ = ["file", "programs"]  # fixtures


def test_extend_adds_a_text_a_topic_and_a_talk(file: Path) -> None:
    for level in ("talk", "reading", "telling"):
        program = extend(file, level)
    assert [s.level for s in program.steps] == ["word", "reading", "telling", "talk"]
    assert "passage" in file.read_text()
    assert main(["check", str(file)]) == 0


def test_extend_says_when_there_is_no_further_text(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    extend(file, "reading")
    before = file.read_text()
    assert main(["extend", str(file), "--to", "reading"]) != 0
    assert "we have no further text for /k/ at this age" in capsys.readouterr().err
    assert file.read_text() == before


def test_who_does_not_read_gets_no_text_to_read(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_text(PROGRAM.replace("reads: yes", "reads: no").replace("age: 6", "age: 5"))
    assert main(["extend", str(file), "--to", "reading"]) != 0
    assert "Take `--to telling`" in capsys.readouterr().err
    assert extend(file, "telling").steps[-1].passage.startswith("A cat comes into the kitchen.")


@pytest.mark.parametrize(
    ("more", "levels"),
    [
        (["--to", "talk", "--reads"], ["reading", "telling", "talk"]),
        (["--to", "talk"], ["reading", "telling", "talk"]),
        (["--to", "talk", "--no-reads"], ["telling", "talk"]),
        (["--to", "telling", "--no-reads"], ["telling"]),
    ],
)
def test_new_drafts_on_past_sentences(programs: Path, more: list[str], levels: list[str]) -> None:
    asked = [*ASKED[:-1], "7"]
    assert main([*asked, *more]) == 0
    fill(programs / "wren-11.yaml")
    program = program_of(programs / "wren-11.yaml", None)
    past = [s.level for s in program.steps if s.level in ("reading", "telling", "talk")]
    assert past == levels
    assert main(["check", "programs/wren-11.yaml"]) == 0


def test_new_refuses_a_text_for_who_does_not_read(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*ASKED, "--to", "reading"]) != 0
    assert "Take `--to telling`" in capsys.readouterr().err
    assert not (programs / "wren-11.yaml").exists()
