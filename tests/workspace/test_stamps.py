from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from builder.workspace.stamps import Stamps, code_of
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
    stamps = stamps_of(folder / "finch-10.yaml")
    takes = str(folder / "takes")
    stamps.record(
        str(folder), "finch-10", stamps.before(str(folder), "finch-10", takes), "abc", "p"
    )
    return folder / "finch-10.yaml"


def stamps_of(program: Path) -> Stamps:
    return Stamps([str(program)], str(program.parent.parent / "public"), "")


def test_the_code_is_read_without_reading_yaml(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text(PROGRAM)
    assert code_of(str(tmp_path / "a.yaml")) == "finch-10"


def test_nothing_changed(program: Path) -> None:
    assert stamps_of(program).unchanged(str(program)).endswith("abc")


@pytest.mark.parametrize(
    "change",
    [
        "finch-10.yaml",
        "clinic.yaml",
        "takes/cow.wav",
        "finch-10/cow.png",
        "../public/abc/practice.json",
    ],
)
def test_a_change_is_seen(program: Path, change: str) -> None:
    file = program.parent / change
    file.parent.mkdir(exist_ok=True)
    file.write_text((file.read_text() if file.exists() else "{}").replace('"p"', '"q"') + "\n")
    assert stamps_of(program).unchanged(str(program)) == ""


def test_another_clients_change_is_not_ours(program: Path) -> None:
    (program.parent / "wren-11.yaml").write_text("client: wren-11\nage: 7\n")
    assert stamps_of(program).unchanged(str(program))


def test_a_second_program_of_the_client_is_seen(program: Path) -> None:
    (program.parent / "finch-10-z.yaml").write_text(PROGRAM)
    assert stamps_of(program).unchanged(str(program)) == ""


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
