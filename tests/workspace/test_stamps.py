from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from builder.workspace import stamps as stamps_module
from builder.workspace.program_files import by_code
from builder.workspace.stamps import Stamps
from tests.support.places import ROOT

PROGRAM = "program: 1\nclient: finch-10  # a bird\n"


@pytest.fixture
def program(tmp_path: Path) -> Path:
    (tmp_path / "mkdocs.yml").write_text("site_name: x\n")
    folder = tmp_path / "programs"
    (folder / "takes").mkdir(parents=True)
    (folder / "clinic.yaml").write_text("clinic: 1\n")
    (folder / "finch-10.yaml").write_text(PROGRAM)
    (folder / "wren-11.yaml").write_text("client: wren-11\n")
    site = tmp_path / "public" / "abc"
    site.mkdir(parents=True)
    (site / "practice.json").write_text(json.dumps({"plan": "p"}))
    view = tmp_path / ".practice" / "views" / "abc" / "p.json"
    view.parent.mkdir(parents=True)
    view.write_text("{}")
    stamps = stamps_of(folder / "finch-10.yaml")
    takes = str(folder / "takes")
    before = stamps.before(str(folder), "finch-10", takes)
    stamps.record(str(folder), "finch-10", before, "abc", "p")
    stamps.save()
    return folder / "finch-10.yaml"


def stamps_of(program: Path) -> Stamps:
    return Stamps([str(program)], str(program.parent.parent / "public"), "")


def test_nothing_changed(program: Path) -> None:
    assert stamps_of(program).unchanged(str(program)).endswith("abc")


def test_a_kept_view_that_is_gone_is_kept_again(program: Path) -> None:
    (program.parents[1] / ".practice" / "views" / "abc" / "p.json").unlink()
    assert stamps_of(program).unchanged(str(program)) == ""


@pytest.mark.parametrize(
    "change",
    [
        "finch-10.yaml",
        "clinic.yaml",
        "takes/cow.wav",
        "finch-10/cow.png",
        "pictures/cow.png",
        "../public/abc/practice.json",
    ],
)
def test_a_change_is_seen(program: Path, change: str) -> None:
    file = program.parent / change
    file.parent.mkdir(exist_ok=True)
    file.write_text((file.read_text() if file.exists() else "{}").replace('"p"', '"q"') + "\n")
    assert stamps_of(program).unchanged(str(program)) == ""


@pytest.mark.parametrize(
    "damaged", [pytest.param(b"", id="cut"), pytest.param(bytes(9), id="zeroed")]
)
def test_a_damaged_file_of_the_site_is_a_change(program: Path, damaged: bytes) -> None:
    clip = program.parents[1] / "public/abc/clips/cow.mp3"
    clip.parent.mkdir()
    clip.write_bytes(b"123456789")
    os.utime(clip, (1, 1))
    stamps, folder = stamps_of(program), str(program.parent)
    before = stamps.before(folder, "finch-10", str(program.parent / "takes"))
    stamps.record(folder, "finch-10", before, "abc", "p")
    assert stamps.unchanged(str(program))
    clip.write_bytes(damaged)
    assert stamps.unchanged(str(program)) == ""


def test_another_clients_change_is_not_ours(program: Path) -> None:
    (program.parent / "wren-11.yaml").write_text("client: wren-11\nage: 7\n")
    assert stamps_of(program).unchanged(str(program))


def test_a_second_program_of_the_client_is_seen(program: Path) -> None:
    (program.parent / "finch-10-z.yaml").write_text(PROGRAM)
    assert stamps_of(program).unchanged(str(program)) == ""


def test_the_tool_itself_counts(program: Path) -> None:
    state = repr(stamps_module._shared(str(program.parents[1])))
    for file in (
        "builder/pipeline.py",
        "builder/audio/render.py",
        "site_templates/pages/step.html",
    ):
        assert str(ROOT / file) in state


def test_what_was_not_saved_is_not_known(program: Path) -> None:
    stamps = stamps_of(program)
    folder = str(program.parent)
    stamps.record(folder, "wren-11", stamps.before(folder, "wren-11", ""), "abc", "p")
    assert stamps_of(program).unchanged(str(program.parent / "wren-11.yaml")) == ""
    stamps.save()
    assert stamps_of(program).unchanged(str(program.parent / "wren-11.yaml"))


def test_another_folder_that_has_the_client_too(program: Path, tmp_path: Path) -> None:
    stamps, other = stamps_of(program), tmp_path / "other"
    assert stamps.elsewhere(str(other), "finch-10") == str(program.parent)
    assert stamps.elsewhere(str(program.parent), "finch-10") == ""
    assert stamps.elsewhere(str(other), "wren-11") == ""
    program.unlink()
    assert stamps_of(program).elsewhere(str(other), "finch-10") == ""


def test_a_bar_in_a_path_is_no_seam(program: Path, tmp_path: Path) -> None:
    folder, out = str(program.parent), str(tmp_path / "public")
    stamps = Stamps([str(program)], f"{out}|", "")
    (Path(f"{out}|") / "abc").mkdir(parents=True)
    stamps.record(folder, "finch-10", stamps.before(folder, "finch-10", ""), "abc", "p")
    stamps.save()
    other = Stamps([str(program)], out, "|")
    assert other.elsewhere(str(tmp_path / "other"), "finch-10") == ""
    assert stamps.elsewhere(str(tmp_path / "other"), "finch-10") == folder


ENTRY = {"takes": "t", "inputs": "i", "site": "abc", "plan": "p", "files": "1"}


@pytest.mark.parametrize(
    "entry", [1, "x", [], {"inputs": "i"}, ENTRY | {"takes": None}, ENTRY | {"site": 3}]
)
def test_stamps_of_another_shape_are_as_none(program: Path, entry: object) -> None:
    file = program.parents[1] / ".practice" / "stamps.json"
    (name,) = json.loads(file.read_text())
    file.write_text(json.dumps({name: entry, "old|form": ENTRY, "[1]": ENTRY}))
    assert stamps_of(program).unchanged(str(program)) == ""
    assert stamps_of(program).elsewhere(str(program.parents[1]), "finch-10") == ""


@pytest.mark.parametrize("mark", ["1", "[]", "null", '"x"'])
def test_a_mark_of_another_shape_is_a_change(program: Path, mark: str) -> None:
    (program.parents[1] / "public" / "abc" / "practice.json").write_text(mark)
    assert stamps_of(program).unchanged(str(program)) == ""


def test_each_program_is_looked_at_once(program: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """However many clients are asked for: the time must not grow with their square."""
    looked: list[str] = []

    def counted(folder: str) -> dict[str, list[str]]:
        looked.append(folder)
        return by_code(folder)

    monkeypatch.setattr("builder.workspace.stamps.by_code", counted)
    stamps = stamps_of(program)
    for code in ("finch-10", "wren-11", "owl-12"):
        stamps.before(str(program.parent), code, "")
    assert looked == [str(program.parent)]


def test_it_imports_nothing_heavy() -> None:
    code = (
        "import sys, builder.__main__, builder.commands.build_command\n"
        "heavy = {'yaml', 'pydantic', 'numpy', 'mkdocs', 'rich', 'pathlib'} & set(sys.modules)\n"
        "print(sorted(heavy))"
    )
    run = subprocess.run(
        [sys.executable, "-S", "-c", code],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    assert run.stdout.strip() == "[]"


def test_a_client_who_is_forgotten_is_built_anew(program: Path) -> None:
    assert stamps_of(program).published(str(program))
    other, root = str(program.with_name("wren-11.yaml")), program.parent.parent
    stamps = stamps_of(program)
    stamps.record(
        str(program.parent),
        "wren-11",
        stamps.before(str(program.parent), "wren-11", ""),
        "abc",
        "p",
    )
    stamps.save()
    stamps_module.forget(str(root), "finch-10")
    assert not stamps_of(program).published(str(program))
    assert stamps_of(program).published(other)
    assert "finch-10" not in (root / stamps_module.FILE).read_text().replace(str(root), "")
