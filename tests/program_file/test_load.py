from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from builder.problems import Place, ProgramError, UsageError
from builder.program_file.load import clients, files_of_client

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
    assert [f.name for f in files_of_client(folder / "a.yaml")] == ["a.yaml", "b.yaml"]


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
    with pytest.raises(ProgramError) as problem:
        clients([folder / "a.yaml"])
    (found,) = problem.value.findings
    assert (found.rule, found.place) == ("clinic", Place(str(folder / "clinic.yaml")))
    assert found.sentence == "The clinic file is missing; it says whom families can ask."
    assert found.remedy == (
        "Create it beside the programs, with `clinic: 1` and `contact: {clinic: …, phone: …}`."
    )


def test_a_file_that_is_not_there(folder: Path) -> None:
    with pytest.raises(UsageError, match="no such file"):
        clients([folder / "nobody.yaml"])


def test_one_code_in_two_folders(folder: Path) -> None:
    other = folder / "other"
    other.mkdir()
    (other / "clinic.yaml").write_text(CLINIC)
    (other / "a.yaml").write_text(PROGRAM.format(code="finch-10", sound="k"))
    with pytest.raises(ProgramError, match="`finch-10` is also the client of"):
        clients([folder / "a.yaml", other / "a.yaml"])


def indented(text: str) -> str:
    return "".join(f"  {line}" for line in text.splitlines(keepends=True))


@pytest.mark.parametrize(
    "written", [indented, lambda text: text.replace("client: ", "client:\n  ")]
)
def test_a_client_whom_other_commands_would_pass_over_is_a_fault(
    folder: Path, written: Callable[[str], str]
) -> None:
    file = folder / "c.yaml"
    file.write_text(written(file.read_text()))
    with pytest.raises(ProgramError, match=r"left edge.*\n.*`client: wren-11`"):
        clients([file])


def test_an_editors_own_files_are_passed_over(folder: Path) -> None:
    (folder / ".#a.yaml").symlink_to("nowhere")
    (folder / "link.yaml").symlink_to("nowhere")
    assert len(files_of_client(folder / "a.yaml")) == 2


@pytest.mark.parametrize(
    "address",
    [
        "abc",
        "foo bar",
        "javascript:alert(1)",
        "ftp://x.org",
        "https://",
        "//x.org",
        "https://x.org?q=1",
        "https://user:pw@x.org",
        "practice.example.org",
    ],
)
def test_what_is_no_web_address(folder: Path, address: str) -> None:
    with pytest.raises(UsageError, match="is not a web address"):
        clients([folder / "a.yaml"], address)
    (folder / "clinic.yaml").write_text(f"{CLINIC}base_url: '{address}'\n")
    with pytest.raises(ProgramError, match="base_url"):
        clients([folder / "a.yaml"])


@pytest.mark.parametrize("address", ["https://x.org", "https://x.org/a/", "http://localhost:8000"])
def test_web_addresses(folder: Path, address: str) -> None:
    (client,) = clients([folder / "a.yaml"], address)
    assert client.clinic.base_url == address
