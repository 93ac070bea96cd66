"""Twelve and more programs with one fault each; the message beside each is golden.

Update after a change of wording: python -m tests.checks.test_faults
"""

from __future__ import annotations

import io
import os
from contextlib import redirect_stdout
from pathlib import Path

import pytest

from builder.__main__ import main
from tests.support.places import TESTS

FOLDER = TESTS / "programs" / "faults"
FAULTY = sorted(f for f in FOLDER.glob("*.yaml") if f.name != "clinic.yaml")


def said(program: Path) -> tuple[int, str]:
    """The exit code of `check` and the findings it prints, without the folder's name."""
    with redirect_stdout(io.StringIO()) as out:
        code = main(["check", os.path.relpath(program)])
    lines = out.getvalue().replace(os.path.relpath(FOLDER) + os.sep, "").splitlines()
    stop = next((i for i, line in enumerate(lines) if line.startswith("finch-")), len(lines))
    findings = [s for s in lines[:stop] if s.startswith("    ") or ".yaml:" in s]
    return code, "\n".join(findings) + "\n"


@pytest.mark.parametrize("program", FAULTY, ids=lambda f: f.stem)
def test_one_fault_one_message(program: Path) -> None:
    code, findings = said(program)
    assert findings == program.with_suffix(".txt").read_text("utf-8")
    assert code == 1
    assert findings.count(": fault: ") == 1
    assert f"[{program.stem}]" in findings


def test_there_are_at_least_twelve() -> None:
    assert len(FAULTY) >= 12


if __name__ == "__main__":
    for one in FAULTY:
        one.with_suffix(".txt").write_text(said(one)[1], "utf-8")
