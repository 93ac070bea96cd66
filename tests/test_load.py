from __future__ import annotations

from pathlib import Path

import pytest

from builder.load import clients, code_in, family
from builder.problems import ProgramError, UsageError

CLINIC = "clinic: 1\ncontact: {clinic: Test Clinic}\n"
PROGRAM = """\
program: 1
client: {code}
sound: {sound}
current: a
steps:
  - {{name: a, level: syllable}}
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "clinic.yaml").write_text(CLINIC)
    (tmp_path / "a.yaml").write_text(PROGRAM.format(code="finch-10", sound="k"))
    (tmp_path / "b.yaml").write_text(PROGRAM.format(code="finch-10", sound="g"))
    (tmp_path / "c.yaml").write_text(PROGRAM.format(code="wren-11", sound="k"))
    return tmp_path


def test_all_programs_of_a_code_make_one_client(folder: Path) -> None:
    (client,) = clients([folder / "b.yaml"])
    assert client.code == "finch-10"
    assert [p.sound.symbol for p in client.programs] == ["K", "G"]
    assert [f.name for f in family(folder / "a.yaml")] == ["a.yaml", "b.yaml"]


def test_each_client_once(folder: Path) -> None:
    found = clients([folder / name for name in ("a.yaml", "c.yaml", "b.yaml")])
    assert [c.code for c in found] == ["finch-10", "wren-11"]


def test_a_broken_file_of_another_client_is_no_matter(folder: Path) -> None:
    (folder / "c.yaml").write_text("client: wren-11\nsound: [")
    assert len(clients([folder / "a.yaml"])) == 1


def test_all_findings_of_all_files(folder: Path) -> None:
    for name in ("a.yaml", "c.yaml"):
        (folder / name).write_text(PROGRAM.format(code="finch-10", sound="th"))
    with pytest.raises(ProgramError) as problem:
        clients([folder / "a.yaml", folder / "c.yaml"])
    assert [Path(f.place.file).name for f in problem.value.findings] == ["a.yaml", "c.yaml"]


def test_without_a_clinic_file(folder: Path) -> None:
    (folder / "clinic.yaml").unlink()
    with pytest.raises(ProgramError, match="The clinic file is missing"):
        clients([folder / "a.yaml"])


def test_a_file_that_is_not_there(folder: Path) -> None:
    with pytest.raises(UsageError, match="no such file"):
        clients([folder / "nobody.yaml"])


@pytest.mark.parametrize(
    ("text", "code"),
    [("client: a-10 # x", "a-10"), ("client: 'a-10'", "a-10"), ("program: 1\n", "")],
)
def test_the_code_in_a_text(text: str, code: str) -> None:
    assert code_in(text) == code
