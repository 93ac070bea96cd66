"""One program for every rule of the check; the messages beside each are golden.

A rule that looks at more than a program (recordings, pictures, the clinic file, other clients) has
a folder.
Update after a change of wording: python -m tests.checks.test_faults
"""

from __future__ import annotations

import io
import os
import re
import shutil
import tempfile
from contextlib import redirect_stdout
from pathlib import Path

import pytest

from builder.__main__ import main
from builder.checks.rules import RULES
from tests.support.day import set_today
from tests.support.frequency_index import index_in
from tests.support.places import TESTS

FOLDER = TESTS / "programs" / "faults"
FREQUENCIES = [("key", 5.1, ""), ("kiln", 2.4, "")]  # Zipf scale, invented


def program_of(rule: str, folder: Path = FOLDER) -> Path:
    """The program of a rule: faults/<rule>.yaml, or the first of the folder faults/<rule>/."""
    files = sorted(f for f in (folder / rule).glob("*.yaml") if f.name != "clinic.yaml")
    return files[0] if files else folder / f"{rule}.yaml"


def copy(to: Path) -> Path:
    """The faulty programs in a practice folder of their own, with a word index; each in a folder
    without other clients."""
    (to / "mkdocs.yml").write_text("site_name: faults\n")
    index_in(to / ".practice" / "index", FREQUENCIES)
    folder = Path(shutil.copytree(FOLDER, to / "programs"))
    for file in folder.glob("*.yaml"):
        if file.name != "clinic.yaml":
            apart = folder / file.stem
            apart.mkdir()
            shutil.copyfile(folder / "clinic.yaml", apart / "clinic.yaml")
            file.rename(apart / file.name)
    return folder


def said(program: Path, folder: Path) -> tuple[int, str]:
    """The exit code of `check` and the findings it prints, without the folder's name."""
    with redirect_stdout(io.StringIO()) as out:
        code = main(["check", str(program)])
    own = f"{program.parent}{os.sep}" if program.stem == program.parent.name else ""
    text = out.getvalue().replace(own, "") if own else out.getvalue()
    lines = text.replace(f"{folder}{os.sep}", "").splitlines()
    stop = next(
        (i for i, line in enumerate(lines) if re.match(r"[a-z]+-\d+: a sitting", line)), len(lines)
    )
    findings = [s for s in lines[:stop] if s.startswith("    ") or ".yaml:" in s]
    return code, "\n".join(findings) + "\n"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return copy(tmp_path_factory.mktemp("faults"))


@pytest.mark.parametrize("rule", RULES)
def test_every_rule_has_a_program_that_breaks_it_alone(rule: str, folder: Path) -> None:
    code, findings = said(program_of(rule, folder), folder)
    assert findings == (FOLDER / f"{rule}.txt").read_text("utf-8")
    degree = RULES[rule].degree
    assert code == (1 if degree == "fault" else 0)
    assert findings.count(f": {degree}: ") == 1
    assert findings.count("    remedy: ") == 1
    assert f"[{rule}]\n" in findings


def test_no_program_is_there_for_a_rule_that_is_gone() -> None:
    named = {file.stem for file in FOLDER.iterdir()} - {"clinic"}
    assert named == set(RULES)


if __name__ == "__main__":
    set_today()
    with tempfile.TemporaryDirectory() as name:
        place = copy(Path(name))
        for one in RULES:
            (FOLDER / f"{one}.txt").write_text(said(program_of(one, place), place)[1], "utf-8")
