from __future__ import annotations

from pathlib import Path

import pytest

from builder.workspace.program_files import MAX_BYTES, by_code, code_of, programs_in


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("program: 1\nclient: a-10  # a bird\n", "a-10"),
        ("client: a-10 # x", "a-10"),
        ("client: 'a-10'", "a-10"),
        ('"client": a-10', "a-10"),
        ("client : a-10", "a-10"),
        ("program: 1\n", ""),
        ("practice: {}\n  client: a-10\n", ""),
        ("sound: [\nclient: a-10", "a-10"),
    ],
)
def test_the_code_is_read_without_reading_yaml(tmp_path: Path, text: str, code: str) -> None:
    (tmp_path / "a.yaml").write_text(text)
    assert code_of(str(tmp_path / "a.yaml")) == code


def test_a_file_that_cannot_be_read_has_no_code(tmp_path: Path) -> None:
    assert code_of(str(tmp_path / "none.yaml")) == ""
    assert code_of(str(tmp_path)) == ""


def test_programs_by_name_and_nothing_else(tmp_path: Path) -> None:
    for name in ("b-10-s.yaml", "b-10.yaml", "a-10.yml", "clinic.yaml", ".c.yaml", "notes.txt"):
        (tmp_path / name).write_text("client: b-10\n")
    (tmp_path / "folder.yaml").mkdir()
    names = [Path(path).name for path in programs_in(str(tmp_path))]
    assert names == ["a-10.yml", "b-10.yaml", "b-10-s.yaml"]


def test_by_code(tmp_path: Path) -> None:
    for name, code in (("a.yaml", "a-10"), ("b.yaml", "b-10"), ("c.yaml", "a-10")):
        (tmp_path / name).write_text(f"client: {code}\n")
    (tmp_path / "d.yaml").write_text("program: 1\n")
    found = {code: [Path(p).name for p in paths] for code, paths in by_code(str(tmp_path)).items()}
    assert found == {"a-10": ["a.yaml", "c.yaml"], "b-10": ["b.yaml"]}


def test_a_huge_file_is_not_read_to_its_end(tmp_path: Path) -> None:
    for name, line in (("lines.yaml", b"a: 1\n"), ("one-line.yaml", b"a")):
        with (tmp_path / name).open("wb") as stream:
            stream.write(line * (MAX_BYTES // len(line) + 1))
            stream.truncate(3_000_000)
            stream.seek(0, 2)
            stream.write(b"\nclient: finch-10\n")
        assert code_of(str(tmp_path / name)) == ""
